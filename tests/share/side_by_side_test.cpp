// Side-by-side films and stills from made-up films of other sizes, rates and rotations.
#include "share/side_by_side.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <fstream>

#include "base/file.hpp"
#include "compare/time_map.hpp"
#include "media/exact_reader.hpp"
#include "media/film_writer.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::share;
using namespace quarterturn::test;

namespace {

/// Hips, shoulders and ankles of somebody 100 pixels tall, standing with her feet at (x, y).
body::CourseFrame standing(double t_s, double x, double y, double scale) {
    body::CourseFrame frame;
    frame.t_s = t_s;
    frame.pts = std::llround(t_s * 90000);
    frame.present = true;
    frame.height_px = 100 * scale;
    const auto put = [&](body::Joint joint, double dx, double up) {
        frame.points[static_cast<std::size_t>(joint)] = {x + scale * dx, y - scale * up, 0.9};
    };
    using enum body::Joint;
    put(left_shoulder, 13, 82), put(right_shoulder, -13, 82), put(left_hip, 9, 53), put(right_hip, -9, 53);
    put(left_knee, 8, 28), put(right_knee, -8, 28), put(left_ankle, 7, 4), put(right_ankle, -7, 4);
    put(left_elbow, 20, 63), put(right_elbow, -20, 63), put(left_wrist, 22, 48), put(right_wrist, -22, 48);
    put(nose, 0, 93);
    return frame;
}

struct Shot {
    int width, height, rotation_deg;
    double rate, duration_s;
    double feet_x, feet_y, scale;  ///< where she stands, upright
    double hold_from_s, hold_to_s;
    bool sound = false;
    const char* suffix = ".mp4";
    bool told_by_person = false;  ///< the file is silent about its rotation
    double walk_to_s = 0;         ///< she walks on stage from 0.2 s to then; 0: she stands there
};

/// A dark film with a bright square between the hips, and what an analysis would say of it.
ComparedSide made_side(const TemporaryFolder& folder, const std::string& name, const Shot& shot) {
    const auto path = folder.path() / (name + shot.suffix);
    const bool lies = std::abs(shot.rotation_deg) == 90;
    media::FilmSettings settings;
    settings.width = lies ? shot.height : shot.width;
    settings.height = lies ? shot.width : shot.height;
    settings.rotation_deg = shot.told_by_person ? 0 : shot.rotation_deg;
    settings.quality = 12;
    settings.audio_rate_hz = shot.sound ? 48000 : 0;
    auto writer = media::FilmWriter::create(path, settings);
    REQUIRE(writer);
    const int cx = static_cast<int>(shot.feet_x), cy = static_cast<int>(shot.feet_y - 53 * shot.scale);
    for (int i = 0; i / shot.rate < shot.duration_s; ++i) {
        media::Image image{settings.width, settings.height, 3, {}};
        image.samples.assign(static_cast<std::size_t>(settings.width * settings.height) * 3, 30);
        for (int y = 0; y < shot.height; ++y)
            for (int x = 0; x < shot.width; ++x) {
                if (std::abs(x - cx) > 6 || std::abs(y - cy) > 6) continue;
                // Stored so that turning 90 degrees clockwise shows it upright.
                const int sx = lies ? y : x, sy = lies ? shot.width - 1 - x : y;
                for (std::size_t c = 0; c < 3; ++c)
                    image.samples[static_cast<std::size_t>(sy * settings.width + sx) * 3 + c] = 230;
            }
        REQUIRE(writer->add(image, std::llround(i * 90000 / shot.rate)));
        if (shot.sound)
            REQUIRE(writer->add_sound(std::vector<float>(static_cast<std::size_t>(48000 / shot.rate), 0.1F)));
    }
    REQUIRE(writer->finish());

    posing::Analysis analysis;
    analysis.clip.file = name + ".mp4";
    analysis.clip.fingerprint = "sha256:" + std::string(63, '0') + name.back();
    analysis.clip.time_base = {1, 90000};
    analysis.clip.duration_s = shot.duration_s;
    if (shot.walk_to_s > 0) {
        posing::Segment walk;
        walk.kind = posing::SegmentKind::walk;
        walk.start_s = 0.2, walk.end_s = shot.walk_to_s;
        walk.start_pts = std::llround(walk.start_s * 90000), walk.end_pts = std::llround(walk.end_s * 90000);
        analysis.segments.push_back(walk);
    }
    posing::Segment hold;
    hold.kind = posing::SegmentKind::hold;
    hold.pose = "quarter_front";
    hold.start_s = shot.hold_from_s;
    hold.end_s = shot.hold_to_s;
    hold.start_pts = std::llround(hold.start_s * 90000);
    hold.end_pts = std::llround(hold.end_s * 90000);
    hold.steadiest_pts = (hold.start_pts + hold.end_pts) / 2;
    analysis.segments.push_back(hold);
    body::BodyCourse course;
    course.width = shot.width;
    course.height = shot.height;
    for (double t = 0; t < shot.duration_s; t += 1.0 / 15)
        course.frames.push_back(standing(t, shot.feet_x, shot.feet_y, shot.scale));
    ComparedSide side{name, {}};
    side.films.push_back({{name, std::make_shared<const posing::Analysis>(std::move(analysis)),
                           std::make_shared<const body::BodyCourse>(std::move(course))},
                          path,
                          shot.told_by_person ? std::optional{shot.rotation_deg} : std::nullopt});
    return side;
}

constexpr Shot near_shot{120, 180, 0, 30, 3.5, 60, 160, 1.4, 0.8, 2.4, true};
constexpr Shot far_shot{160, 240, -90, 25, 4, 100, 200, 0.9, 1.0, 3.2, false};

double brightness(const media::Image& image, int x, int y) {
    const auto at = static_cast<std::size_t>(y * image.width + x) * 3;
    return (image.samples[at] + image.samples[at + 1] + image.samples[at + 2]) / 3.0;
}

std::size_t files_in(const std::filesystem::path& folder) {
    return static_cast<std::size_t>(
        std::distance(std::filesystem::directory_iterator{folder}, std::filesystem::directory_iterator{}));
}

}  // namespace

TEST_CASE("the earlier picture is brought to the later one's scale, place and upright") {
    const TemporaryFolder folder;
    const auto now = made_side(folder, "now1", near_shot), before = made_side(folder, "before2", far_shot);
    const auto comparison = compare::compare_takes(now.takes(), before.takes());
    REQUIRE(comparison.pairs.size() == 1);
    CHECK(comparison.pairs[0].alignment->before_to_now.scale == doctest::Approx(1.4 / 0.9));
    PairPictures pictures(now, before);
    const auto images = pictures.of(comparison, comparison.pairs[0], 0, false);
    REQUIRE(images);
    CHECK(images->aligned);
    CHECK(images->before.width == 120);
    CHECK(images->before.height == 180);
    // Between the hips: feet at (60, 160), hips 53 * 1.4 above them.
    CHECK(brightness(images->now, 60, 86) > 200);
    CHECK(brightness(images->before, 60, 86) > 200);
    CHECK(brightness(images->before, 60, 110) < 60);

    const auto out = folder.path() / "still.png";
    SideBySide how;
    const auto remarks = write_pair_still(now, before, comparison, how, out);
    REQUIRE(remarks);
    CHECK(std::filesystem::file_size(out) > 1000);
}

TEST_CASE("a rotation that a person has set is heeded in stills and films") {
    const TemporaryFolder folder;
    Shot lying = far_shot;
    lying.told_by_person = true;
    const auto now = made_side(folder, "now1", near_shot), before = made_side(folder, "before2", lying);
    const auto comparison = compare::compare_takes(now.takes(), before.takes());
    PairPictures pictures(now, before);
    const auto images = pictures.of(comparison, comparison.pairs[0], 0, false);
    REQUIRE(images);
    CHECK(brightness(images->before, 60, 86) > 200);
    CHECK(brightness(images->before, 60, 110) < 60);

    const auto out = folder.path() / "both.mp4";
    REQUIRE(write_side_by_side_film(now, before, comparison, SideBySide{}, out));
    auto film = media::ExactReader::open(out);
    REQUIRE(film);
    const auto picture = film->frame_of_rank(film->index().pictures.size() / 2);
    REQUIRE(picture);
    const auto image = media::to_rgb(*picture, film->info());
    REQUIRE(image);
    CHECK(brightness(*image, 60, 86) > 180);
    CHECK(brightness(*image, 120 + 60, 86) > 180);
    CHECK(brightness(*image, 120 + 60, 110) < 60);
}

TEST_CASE("a still may lay both over each other") {
    const TemporaryFolder folder;
    const auto now = made_side(folder, "now1", near_shot), before = made_side(folder, "before2", far_shot);
    const auto comparison = compare::compare_takes(now.takes(), before.takes());
    std::vector<std::string> files;
    for (const Look look : {Look::beside, Look::over, Look::edge}) {
        const auto out = folder.path() / "still.png";
        SideBySide how;
        how.look = look;
        REQUIRE(write_pair_still(now, before, comparison, how, out));
        files.push_back(read_file(out).value());
    }
    // PNG (ISO/IEC 15948): width in bytes 16 to 19, big end first.
    const auto width = [](const std::string& png) {
        return static_cast<unsigned char>(png[18]) * 256 + static_cast<unsigned char>(png[19]);
    };
    CHECK(width(files[0]) == 244);
    CHECK(width(files[1]) == 120);
    CHECK(width(files[2]) == 120);
    CHECK(files[1] != files[2]);
}

TEST_CASE("a side-by-side film follows the time map, plays anywhere and carries nothing about where and when") {
    const TemporaryFolder folder;
    const auto now = made_side(folder, "now1", near_shot), before = made_side(folder, "before2", far_shot);
    const auto comparison = compare::compare_takes(now.takes(), before.takes());
    const auto out = folder.path() / "both.mp4";
    double last = 0;
    SideBySide how;
    how.progress = [&](double share) {
        CHECK(share >= last);
        last = share;
    };
    REQUIRE(write_side_by_side_film(now, before, comparison, how, out));
    CHECK(last > 0.9);

    auto reader = media::ExactReader::open(out);
    REQUIRE(reader);
    const media::ClipInfo& info = reader->info();
    CHECK(info.codec == "h264");
    CHECK(info.width == 240);
    CHECK(info.audio.size() == 1);
    CHECK_FALSE(info.recorded_at);
    CHECK(info.colour == media::Colour{});
    // From one second before the hold (the film's beginning) to one second after it.
    CHECK(reader->index().pictures.size() == 103);
    CHECK(reader->index().duration_s() == doctest::Approx(103 / 30.0).epsilon(0.01));
    const auto picture = reader->frame_at_seconds(1.5);
    REQUIRE(picture);
    const auto image = media::to_rgb(*picture, info);
    REQUIRE(image);
    CHECK(brightness(*image, 60, 86) > 190);
    CHECK(brightness(*image, 120 + 60, 86) > 190);
    CHECK(brightness(*image, 120 + 60, 115) < 70);
    // A line parts the two.
    CHECK(brightness(*image, 100, 20) > 20);
    CHECK(brightness(*image, 119, 20) < 12);
    CHECK(brightness(*image, 120, 20) < 12);
    CHECK(brightness(*image, 140, 20) > 20);

    // The index stands in front, so a browser can begin at once (ISO/IEC 14496-12: box type after its size).
    const auto bytes = read_file(out);
    REQUIRE(bytes);
    CHECK(bytes->find("moov") < bytes->find("mdat"));
    for (const char* word : {"creation_time", "location", "Lavf", "\xA9xyz", "com.apple"})
        CHECK(bytes->find(word) == std::string::npos);
}

TEST_CASE("a side-by-side film begins a second before the first hold, not with the way to it") {
    const TemporaryFolder folder;
    Shot walked = near_shot;
    walked.duration_s = 4.5, walked.hold_from_s = 2, walked.hold_to_s = 3, walked.walk_to_s = 1.5;
    const auto now = made_side(folder, "now1", walked), before = made_side(folder, "before2", walked);
    const auto comparison = compare::compare_takes(now.takes(), before.takes());
    const auto out = folder.path() / "both.mp4";
    REQUIRE(write_side_by_side_film(now, before, comparison, SideBySide{}, out));
    const auto reader = media::ExactReader::open(out);
    REQUIRE(reader);
    CHECK(reader->index().duration_s() == doctest::Approx(3).epsilon(0.02));
}

TEST_CASE("stopping, a full folder name or writing onto a source leaves nothing behind") {
    const TemporaryFolder folder;
    const auto now = made_side(folder, "now1", near_shot), before = made_side(folder, "before2", far_shot);
    const auto comparison = compare::compare_takes(now.takes(), before.takes());
    const std::size_t files = files_in(folder.path());
    SUBCASE("stopped half way") {
        std::stop_source source;
        SideBySide how;
        how.stop = source.get_token();
        how.progress = [&](double share) {
            if (share > 0.4) source.request_stop();
        };
        const Status status = write_side_by_side_film(now, before, comparison, how, folder.path() / "both.mp4");
        REQUIRE_FALSE(status);
        CHECK(status.error().code == ErrorCode::cancelled);
    }
    SUBCASE("no such folder") {
        const Status status =
            write_side_by_side_film(now, before, comparison, {}, folder.path() / "nowhere" / "both.mp4");
        REQUIRE_FALSE(status);
        CHECK(status.error().code == ErrorCode::not_found);
    }
    SUBCASE("onto one of the two films") {
        const Status status = write_side_by_side_film(now, before, comparison, {}, now.films[0].film);
        REQUIRE_FALSE(status);
        CHECK(status.error().code == ErrorCode::bad_input);
        CHECK(media::probe(now.films[0].film));
    }
    SUBCASE("a full disk") {
        if (!std::filesystem::exists("/dev/full")) return;
        CHECK_FALSE(write_side_by_side_film(now, before, comparison, {}, "/dev/full/both.mp4"));
    }
    CHECK(files_in(folder.path()) == files);
}

TEST_CASE("without landmarks the earlier picture is fitted into the frame") {
    const TemporaryFolder folder;
    auto now = made_side(folder, "now1", near_shot), before = made_side(folder, "before2", far_shot);
    before.films[0].take.course = nullptr;
    const auto comparison = compare::compare_takes(now.takes(), before.takes());
    REQUIRE(comparison.pairs.size() == 1);
    CHECK_FALSE(comparison.pairs[0].alignment);
    REQUIRE_FALSE(comparison.warnings.empty());
    const auto out = folder.path() / "both.mp4";
    SideBySide how;
    how.sound = false;
    how.match_light = true;
    REQUIRE(write_side_by_side_film(now, before, comparison, how, out));
    CHECK(media::probe(out)->audio.empty());
    const auto remarks = write_pair_still(now, before, comparison, how, folder.path() / "still.png");
    REQUIRE(remarks);
    CHECK(remarks->size() >= 1);
}
