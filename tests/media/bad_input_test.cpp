// Real camera rolls hold cut, broken and foreign files. Each gets a plain sentence or the part that can be read.
#include <doctest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <random>

#include "base/file.hpp"
#include "media/exact_reader.hpp"
#include "media/films.hpp"
#include "media/linear_reader.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::media;
using test::TemporaryFolder;

namespace {

namespace fs = std::filesystem;

fs::path written(const TemporaryFolder& folder, const char* name, std::string_view bytes) {
    const fs::path path = folder.path() / name;
    REQUIRE(write_file(path, bytes));
    return path;
}

/// Every reader refuses the file with the same code, in one sentence that has the expected words in it.
void check_refused(const fs::path& path, ErrorCode code, std::string_view words) {
    CAPTURE(path.string());
    const auto info = probe(path);
    REQUIRE_FALSE(info);
    CHECK(info.error().code == code);
    CHECK_MESSAGE(info.error().detail.find(words) != std::string::npos, info.error().detail);
    CHECK(info.error().detail.back() == '.');
    CHECK(LinearReader::open(path).error().code == code);
    CHECK(build_index(path).error().code == code);
    CHECK(ExactReader::open(path).error().code == code);
}

struct Outcome {
    int pictures = 0;
    int damaged = 0;
    std::vector<std::string> warnings;
};

Outcome read_all(const fs::path& path) {
    Outcome outcome;
    auto reader = LinearReader::open(path, {2});
    REQUIRE(reader);
    for (;;) {
        const auto picture = reader->next();
        REQUIRE(picture);
        if (!*picture) break;
        ++outcome.pictures;
        outcome.damaged += (*picture)->damaged ? 1 : 0;
        REQUIRE(outcome.pictures < 1000);
    }
    outcome.warnings = reader->warnings();
    return outcome;
}

bool says(const std::vector<std::string>& warnings, std::string_view words) {
    for (const std::string& warning : warnings)
        if (warning.find(words) != std::string::npos) return true;
    return false;
}

}  // namespace

TEST_CASE("what is no film is refused in words") {
    const TemporaryFolder folder;
    check_refused(folder.path() / "absent.mp4", ErrorCode::not_found, "no such file");
    check_refused(folder.path(), ErrorCode::bad_input, "is a folder");
    check_refused(written(folder, "empty.mp4", ""), ErrorCode::bad_input, "is empty");
    check_refused(written(folder, "letter.mp4", "Dear coach,\nhere is my film.\n"), ErrorCode::bad_input, "not a film");
    check_refused(written(folder, "zeros.mp4", std::string(5000, '\0')), ErrorCode::bad_input, "not a film");
    check_refused(test::film("sound_only.m4a", "{tone} -c:a aac"), ErrorCode::bad_input, "sound only");
}

TEST_CASE("a film whose index is missing says that the copy was cut") {
    const TemporaryFolder folder;
    const std::string whole = read_file(test::film_of_kind("h264 mp4")).value();
    check_refused(written(folder, "cut.mp4", whole.substr(0, whole.size() / 2)), ErrorCode::bad_input, "moov");
}

TEST_CASE("absurd dimensions are refused before any memory is taken for them") {
    const TemporaryFolder folder;
    check_refused(written(folder, "huge.y4m", "YUV4MPEG2 W100000 H90000 F30:1 C420\nFRAME\nabc"), ErrorCode::bad_input,
                  "film");
    std::string avi =
        read_file(test::film("raw.avi", "-f lavfi -i testsrc2=size=32x32:duration=0.2 -c:v rawvideo")).value();
    const std::size_t header = avi.find("strf");
    REQUIRE(header != std::string::npos);
    // BITMAPINFOHEADER: width and height are its second and third number.
    avi.replace(header + 12, 8, std::string("\xa0\x86\x01\x00\x90\x5f\x01\x00", 8));
    check_refused(written(folder, "huge.avi", avi), ErrorCode::bad_input, "damaged");
}

TEST_CASE("a file that points to other files is not followed") {
    const TemporaryFolder folder;
    const std::string film = test::film_of_kind("h264 mp4").string();
    check_refused(written(folder, "list.mp4", "ffconcat version 1.0\nfile '" + film + "'\n"), ErrorCode::bad_input,
                  "not a film");
    check_refused(
        written(folder, "list.m3u8", "#EXTM3U\n#EXT-X-TARGETDURATION:3\n#EXTINF:3,\n" + film + "\n#EXT-X-ENDLIST\n"),
        ErrorCode::bad_input, "not a film");
}

TEST_CASE("a pipe does not make the program wait") {
    const TemporaryFolder folder;
    const fs::path path = folder.path() / "pipe.mp4";
    REQUIRE(::mkfifo(path.c_str(), 0600) == 0);
    check_refused(path, ErrorCode::bad_input, "not a file on disk");
}

TEST_CASE("a film without permission says so") {
    // The same mapping serves every reader; root reads everything, so only the mapping can be tested then.
    CHECK(system_error(EACCES, "open", "film.mp4").code == ErrorCode::no_permission);
    if (::geteuid() == 0) {
        MESSAGE("running as root: opening a forbidden file is not tested");
        return;
    }
    const TemporaryFolder folder;
    const fs::path path = written(folder, "film.mp4", read_file(test::film_of_kind("h264 mp4")).value());
    REQUIRE(::chmod(path.c_str(), 0) == 0);
    check_refused(path, ErrorCode::no_permission, "no permission");
}

TEST_CASE("a film cut in the middle gives what is there and says how much of how much") {
    const TemporaryFolder folder;
    const fs::path whole =
        test::film_from(test::film_of_kind("h264 mp4"), "front.mp4", "-i {in} -c copy -movflags +faststart");
    const std::string bytes = read_file(whole).value();
    const fs::path cut = written(folder, "cut.mp4", bytes.substr(0, bytes.size() * 6 / 10));
    const Outcome outcome = read_all(cut);
    CHECK(outcome.pictures > 30);
    CHECK(outcome.pictures < 70);
    CHECK_MESSAGE(says(outcome.warnings, "of 90 pictures"),
                  (outcome.warnings.empty() ? "no warning" : outcome.warnings[0]));
    const auto index = build_index(cut);
    REQUIRE(index);
    CHECK_FALSE(index->complete);
    CHECK(says(index->warnings, "of 90 pictures"));
    auto reader = ExactReader::open(cut);
    REQUIRE(reader);
    CHECK(reader->frame_at_seconds(0.5));
    CHECK(reader->frame_of_rank(5));
    // The very end may be half a picture: an answer is due, not a picture.
    (void)reader->frame_of_rank(index->pictures.size() - 1);
    CHECK(reader->frame_of_rank(6));
}

TEST_CASE("a cut Matroska or transport stream says how many seconds are missing, or simply ends") {
    const TemporaryFolder folder;
    const std::string mkv = read_file(test::film_of_kind("h264 mkv")).value();
    const Outcome outcome = read_all(written(folder, "cut.mkv", mkv.substr(0, mkv.size() / 3)));
    CHECK(outcome.pictures > 10);
    CHECK(says(outcome.warnings, "of 3.0 seconds"));
    const std::string ts = read_file(test::film_of_kind("h264 mpegts")).value();
    CHECK(read_all(written(folder, "cut.ts", ts.substr(0, ts.size() / 3))).pictures > 10);
}

TEST_CASE("a transport stream that begins in the middle begins with its first whole picture, in every reader") {
    const TemporaryFolder folder;
    for (const std::string kind : {"h264 mpegts", "hevc mpegts", "h264 mpegts open gop with sound"}) {
        CAPTURE(kind);
        const std::string ts = read_file(test::film_of_kind(kind)).value();
        const fs::path cut = written(folder, "middle.ts", ts.substr(ts.size() / 188 / 5 * 188));
        auto linear = LinearReader::open(cut, {1});
        auto exact = ExactReader::open(cut, {.threads = 1});
        REQUIRE(linear);
        REQUIRE(exact);
        std::vector<std::int64_t> read;
        for (;;) {
            const auto picture = linear->next();
            REQUIRE(picture);
            if (!*picture) break;
            read.push_back((*picture)->pts);
        }
        std::vector<std::int64_t> indexed;
        for (const IndexEntry& entry : exact->index().pictures) indexed.push_back(entry.pts);
        CHECK(read.size() == indexed.size());
        CHECK(read.front() == indexed.front());
        CHECK((read == indexed));
        CHECK(exact->frame_of_rank(0));
        CHECK(exact->frame_of_rank(indexed.size() - 1));
    }
}

TEST_CASE("flipped bits never crash or hang, and damage is told") {
    const TemporaryFolder folder;
    int told = 0;
    for (const std::string kind :
         {"h264 mp4", "hevc mp4", "vp9 webm", "mpeg4 avi", "h264 mpegts", "av1 webm", "mjpeg avi"}) {
        CAPTURE(kind);
        const std::string whole = read_file(test::film_of_kind(kind)).value();
        for (unsigned seed = 0; seed < 4; ++seed) {
            std::string bytes = whole;
            std::mt19937 random{seed};
            for (int i = 0; i < 12; ++i) {
                const std::size_t at = random() % bytes.size();
                bytes[at] = static_cast<char>(bytes[at] ^ (1 << (random() % 8)));
            }
            const fs::path path = written(folder, "flipped", bytes);
            if (!probe(path)) continue;
            const Outcome outcome = read_all(path);
            told += outcome.warnings.empty() ? 0 : 1;
            auto reader = ExactReader::open(path, {.threads = 2});
            if (!reader) continue;
            for (std::size_t rank = 0; rank < reader->index().pictures.size(); rank += 17) {
                const auto picture = reader->frame_of_rank(rank);
                if (picture) CHECK(picture->pts == reader->index().pictures[rank].pts);
            }
        }
    }
    CHECK(told > 5);
}

TEST_CASE("a single picture opens as a film of one") {
    for (const std::string name : {"one.png", "one.jpg", "one.webp", "one.bmp"}) {
        CAPTURE(name);
        const fs::path path = test::film(name, "-f lavfi -i testsrc2=size=64x48:duration=1 -frames:v 1");
        CHECK(read_all(path).pictures == 1);
        auto reader = ExactReader::open(path);
        REQUIRE(reader);
        CHECK(reader->index().pictures.size() == 1);
        CHECK(reader->frame_at_seconds(3));
    }
}

TEST_CASE("reading leaves nothing behind") {
    const TemporaryFolder folder;
    const fs::path path = written(folder, "film.mp4", read_file(test::film_of_kind("h264 mp4")).value());
    (void)read_all(path);
    (void)ExactReader::open(path);
    CHECK(std::distance(fs::directory_iterator{folder.path()}, {}) == 1);
}
