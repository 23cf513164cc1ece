#include "drawing.hpp"

#include <doctest.h>

#include <cmath>

#include "camera.hpp"
#include "film.hpp"
#include "media/linear_reader.hpp"
#include "routine.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::sample;

namespace {

const std::string plain_film = R"("film":{"width":216,"height":384,"noise":0},)";

Script standing(const std::string& pose, const std::string& more = plain_film) {
    return script_of(R"({"do":"pose","hold_s":1,"pose":")" + pose + "\"}", more);
}

/// Whether the pixel looks like lit skin, suit or hair rather than the grey wall: warm and not grey.
bool is_body(const Drawn& picture, double x, double y) {
    const auto at =
        (static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.width) + static_cast<std::size_t>(x)) * 3;
    return picture.rgb[at] > picture.rgb[at + 2] + 14;
}

}  // namespace

TEST_CASE("the drawn body covers its projected joints and nothing beside them") {
    for (const char* pose : {"quarter_front", "quarter_left_side", "quarter_back", "front_double_biceps"}) {
        CAPTURE(pose);
        const Script script = standing(pose);
        const Drawn picture = Drawing(script).picture_at(0.5, 0);
        const TruePicture truth = true_of(script).pictures.at(15);
        // shoulders, elbows, hips and knees lie well inside the flesh, and against the wall, not the floor
        for (const std::size_t point : {11U, 12U, 13U, 14U, 23U, 24U, 25U, 26U}) {
            CAPTURE(point);
            CHECK(is_body(picture, truth.points[point].x_px, truth.points[point].y_px));
        }
        const TruePoint& nose = truth.points[0];
        CHECK_FALSE(is_body(picture, nose.x_px, nose.y_px - 40));
        CHECK_FALSE(is_body(picture, 8, truth.points[23].y_px));
        CHECK_FALSE(is_body(picture, 208, truth.points[23].y_px));
    }
}

TEST_CASE("the silhouette is as wide at the shoulders as the skeleton says") {
    const Script script = standing("quarter_front");
    const Drawn picture = Drawing(script).picture_at(0.5, 0);
    const TruePicture truth = true_of(script).pictures.at(15);
    const double y = truth.points[11].y_px + 3;
    int covered = 0;
    for (int x = 0; x < picture.width; ++x) covered += is_body(picture, x, y) ? 1 : 0;
    const double joints = truth.points[11].x_px - truth.points[12].x_px;
    CHECK(covered > 1.15 * joints);  // the shoulder muscles lie outside the joint centres
    CHECK(covered < 1.6 * joints);
}

TEST_CASE("the same seed draws the same pixels, another seed other grain") {
    const std::string noisy = R"("film":{"width":108,"height":192},)";
    const Script script = standing("side_chest", noisy);
    const Drawn first = Drawing(script).picture(7);
    CHECK(first.rgb == Drawing(script).picture(7).rgb);
    Drawing used(script);
    (void)used.picture(3);
    CHECK(first.rgb == used.picture(7).rgb);
    Script other = script;
    other.seed += 1;
    CHECK(first.rgb != Drawing(other).picture(7).rgb);
}

TEST_CASE("the plain and the wide code draw the same picture") {
    const Script script = standing("abdominals_and_thighs");
    const Drawn plain = Drawing(script, portable_field()).picture(5);
    CHECK(plain.rgb == Drawing(script, fastest_field()).picture(5).rgb);
}

TEST_CASE("a mirrored film is the plain one seen in a mirror") {
    const Script script = standing("side_triceps");
    const Script mirror = standing("side_triceps", plain_film + R"("camera":{"mirrored":true},)");
    const Drawn a = Drawing(script).picture(5), b = Drawing(mirror).picture(5);
    const auto row = static_cast<std::size_t>(a.width) * 3;
    std::size_t different = 0;
    for (std::size_t y = 0; y < static_cast<std::size_t>(a.height); ++y)
        for (std::size_t x = 0; x < static_cast<std::size_t>(a.width); ++x)
            different += a.rgb[y * row + x * 3] != b.rgb[y * row + row - 3 - x * 3] ? 1U : 0U;
    CHECK(different == 0);
}

TEST_CASE("a short film holds its pictures at their times, stored on its side where asked") {
    const test::TemporaryFolder folder;
    const auto path = folder.path() / "film.mp4";
    const Script script =
        standing("quarter_front", R"("film":{"width":108,"height":192,"rotation":"right","jitter":0.4,"sound":true},)");
    REQUIRE(render(script, path, 6));
    Result<media::LinearReader> reader = media::LinearReader::open(path);
    REQUIRE(reader);
    CHECK(reader->info().width == 192);
    CHECK(reader->info().height == 108);
    CHECK(reader->info().rotation_deg == -90);
    CHECK(reader->info().audio.size() == 1);
    const std::vector<std::int64_t> times = picture_times(script, 1);
    std::size_t count = 0;
    for (;;) {
        const Result<std::optional<media::Picture>> picture = reader->next();
        REQUIRE(picture);
        if (!*picture) break;
        const TimeBase base = reader->info().time_base;
        CHECK(rescale((*picture)->pts, base, {1, 90000}) == times.at(count));
        ++count;
    }
    CHECK(count == 6);
}
