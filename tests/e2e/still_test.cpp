/// The exact picture of a moment, against the picture the ffmpeg program takes out of the same film.
#include <doctest.h>

#include <algorithm>
#include <fstream>

#include "e2e/program.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn::test;

TEST_CASE("a still by timestamp is the picture that ffmpeg finds there") {
    const TemporaryFolder folder;
    REQUIRE(!make_film(folder.path(), "clip.mp4", "-bf 2 -g 12").empty());
    // Picture 31 of a 30/s film in a time base of 1/15360 has pts 31 * 512.
    const Ran ran = run_quarterturn({"still", "clip.mp4", "--frame-pts", "15872", "-o", "ours.png"}, folder.path());
    CHECK(ran.exit == 0);
    CHECK(ran.out.find("1.033 s (pts 15872), 120 x 160") != std::string::npos);
    // The same conversion asked of ffmpeg (chroma interpolated to full size) has to give the same samples.
    const Ran taken = run_program(
        {"sh", "-c",
         "flags=bicubic+full_chroma_int+full_chroma_inp+accurate_rnd; "
         "ffmpeg -v error -i clip.mp4 -vf \"select=eq(n\\,31),scale=flags=$flags\" -frames:v 1 theirs.png && "
         "ffmpeg -v error -i ours.png -f framemd5 - | tail -n 1 && ffmpeg -v error -i theirs.png -f framemd5 - | tail "
         "-n 1"},
        folder.path());
    REQUIRE(taken.exit == 0);
    const auto middle = taken.out.find('\n');
    REQUIRE(middle != std::string::npos);
    CHECK(taken.out.substr(0, middle + 1) == taken.out.substr(middle + 1));
}

TEST_CASE("a still by seconds is the picture on screen then") {
    const TemporaryFolder folder;
    REQUIRE(!make_film(folder.path(), "clip.mp4").empty());
    CHECK(
        run_quarterturn({"still", "clip.mp4", "--at", "0.99", "-o", "a.png"}, folder.path()).out.find("(pts 14848)") !=
        std::string::npos);
    CHECK(run_quarterturn({"still", "clip.mp4", "--at", "1.0", "-o", "b.png"}, folder.path()).out.find("(pts 15360)") !=
          std::string::npos);
}

TEST_CASE("what cannot be had is said in one sentence with its own exit code") {
    const TemporaryFolder folder;
    REQUIRE(!make_film(folder.path(), "clip.mp4").empty());
    const auto fails = [&](const std::vector<std::string>& arguments, int exit) {
        const Ran ran = run_quarterturn(arguments, folder.path());
        CAPTURE(ran.err);
        CHECK(ran.exit == exit);
        CHECK(ran.out.empty());
        CHECK(std::count(ran.err.begin(), ran.err.end(), '\n') == 1);
    };
    fails({"still", "absent.mp4", "--at", "1", "-o", "x.png"}, 3);
    fails({"still", "clip.mp4", "--frame-pts", "7", "-o", "x.png"}, 3);
    fails({"still", "clip.mp4", "--at", "1", "-o", "no/such/folder/x.png"}, 3);
    fails({"still", "home", "--at", "1", "-o", "x.png"}, 4);
    fails({"still", "clip.mp4", "--at", "1", "-o", "home"}, 4);
    fails({"still", "clip.mp4", "--at", "999", "-o", "x.png"}, 4);
    fails({"still", "clip.mp4", "--at", "-1", "-o", "x.png"}, 4);
    std::ofstream{folder.path() / "text.mp4"} << "this is no film";
    fails({"still", "text.mp4", "--at", "1", "-o", "x.png"}, 4);
    CHECK_FALSE(std::filesystem::exists(folder.path() / "x.png"));
    fails({"still", "clip.mp4", "-o", "x.png"}, 2);
}
