#pragma once
/// An MP4 file being written: its part file and libav's muxer, closed in the right order. Private to this room.
#include "base/result.hpp"
#include "media/libav.hpp"
#include "media/part_file.hpp"

namespace quarterturn::media {

/// Destroying an unfinished one leaves nothing behind.
class FilmFile {
  public:
    /// @error unsupported: no MP4 in this build; otherwise as PartFile::create
    [[nodiscard]] static Result<FilmFile> create(const std::filesystem::path& path);

    [[nodiscard]] AVFormatContext& format() { return *format_; }
    /// The file's head, with the index in front, after all streams were added.
    [[nodiscard]] Status write_head();
    /// Writes what is left and puts the file under its name.
    [[nodiscard]] Status finish();
    /// For a libav error number met while writing to it.
    [[nodiscard]] Error error(int status) const;

  private:
    FilmFile(PartFile file, OutputPtr format) : file_(std::move(file)), format_(std::move(format)) {}
    // Destroyed in reverse: the io is closed before the part file is removed.
    PartFile file_;
    OutputPtr format_;
    IoPtr io_;
};

/// A stream for what `encoder` makes. @param rotation_deg  display rotation to store, as in ClipInfo; multiple of 90
[[nodiscard]] AVStream& add_stream(FilmFile& file, const AVCodecContext& encoder, int rotation_deg = 0);

}  // namespace quarterturn::media
