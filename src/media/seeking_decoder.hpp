#pragma once
/// A decoder that can be put at any key picture and says for certain which picture it gives. Private to this room.
#include <filesystem>
#include <optional>
#include <vector>

#include "media/libav.hpp"
#include "media/packet_names.hpp"
#include "media/picture.hpp"
#include "media/source.hpp"

namespace quarterturn::media {

/// Every packet is given its picture's index timestamp before it is decoded, and the decoder hands that timestamp on
/// with the picture: so it does not matter where a seek really landed. Each start is verified by the first packets
/// read; a seek that lands too late is repeated further back.
class SeekingDecoder {
  public:
    /// @error as probe
    [[nodiscard]] static Result<SeekingDecoder> open(const std::filesystem::path& path, int threads);

    [[nodiscard]] const Source& source() const { return source_; }

    /// Decoding starts at exactly this key picture of the index. False: it cannot be reached.
    [[nodiscard]] bool start_at_key(const PacketNames& names, std::size_t key_rank);
    /// Without an index: decoding starts at some key picture shown at or before `pts`.
    [[nodiscard]] bool start_before(std::int64_t pts);
    [[nodiscard]] bool start_at_beginning();

    /// What the pictures to come are wanted for.
    struct Wish {
        /// Pictures before this timestamp that no other picture needs are left out.
        std::int64_t skip_before = INT64_MIN;
        /// By rank: only these will ever be asked for, others that no picture needs are left out; nullptr: any may be.
        const std::vector<bool>* only = nullptr;
        /// The one picture wanted: once its packet is in, nothing further is decoded, and then the pictures end. Saves
        /// the pictures a decoder takes in before it gives one out, but the next request has to start anew.
        std::optional<std::int64_t> end_with = std::nullopt;
    };

    /// The next picture that can be trusted (its references were decoded too), in presentation order; nullopt at the
    /// end.
    /// @param names  nullptr while there is no index: packets' own timestamps name the pictures
    [[nodiscard]] std::optional<Picture> next(const PacketNames* names, const Wish& wish);

  private:
    SeekingDecoder(std::filesystem::path path, Source source, CodecPtr decoder);
    [[nodiscard]] bool seek(std::int64_t timestamp);
    [[nodiscard]] bool seek_to_byte(std::int64_t position);
    [[nodiscard]] bool restart();
    void feed(const PacketNames* names, const Wish& wish);
    void drain();
    [[nodiscard]] bool read_up_to(const PacketNames& names, std::size_t key_rank);
    [[nodiscard]] bool read_up_to_key_before(std::int64_t pts);
    void name_packet(const PacketNames* names, const Wish& wish);

    std::filesystem::path path_;
    Source source_;
    CodecPtr decoder_;
    PacketPtr packet_ = new_packet();
    FramePtr frame_ = new_frame();
    bool packet_waits_ = false;  ///< packet_ holds the next packet to decode
    bool drained_ = false;
    bool layered_ = false;  ///< see temporal_layers.hpp: nothing may be left out
    int unit_length_bytes_ = 0;
    std::int64_t trusted_from_ = 0;  ///< pictures before it may lack their references
    std::int64_t first_position_ = -1;
    std::int64_t first_dts_ = AV_NOPTS_VALUE;
};

}  // namespace quarterturn::media
