/// The report in a real browser: nothing runs, nothing is asked for, nothing sticks out.
#include <doctest.h>

#include <fstream>

#include "browser.hpp"
#include "media/film_writer.hpp"
#include "share/made_up_practice.hpp"
#include "share/report.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::share;

namespace {

/// A moving bar on grey, 30 s, portrait.
void write_film(const std::filesystem::path& path) {
    auto writer = media::FilmWriter::create(path, {.width = 216, .height = 384, .time_base = {1, 90000}});
    REQUIRE(writer);
    for (int i = 0; i < 300; ++i) {
        media::Image image{216, 384, 3, std::vector<std::uint8_t>(216 * 384 * 3, 90)};
        for (int y = 40; y < 360; ++y) {
            for (int x = 80; x < 120; ++x) image.samples[static_cast<std::size_t>((y * 216 + (x + i) % 216) * 3)] = 220;
        }
        REQUIRE(writer->add(image, i * 18000));
    }
    REQUIRE(writer->finish());
}

/// A page of `width` pixels that shows ours in a frame and writes how far it sticks out of it.
std::filesystem::path frame_around(const std::filesystem::path& page, int width) {
    const std::filesystem::path frame = page.parent_path() / ("frame" + std::to_string(width) + ".html");
    std::ofstream{frame}
        << "<!DOCTYPE html><body><iframe id=f style='border:0;height:800px;width:" << width << "px' src='"
        << page.filename().string()
        << "'></iframe><script>f.onload=()=>{const d=f.contentDocument;document.body.append('sticks out '+"
           "(d.documentElement.scrollWidth-d.documentElement.clientWidth)+' title '+d.title+' images "
           "'+[...d.images].filter(i=>"
           "i.naturalWidth>0).length)}</script>";
    return frame;
}

struct Pages {
    test::TemporaryFolder folder;
    std::filesystem::path session, season;
    Pages() {
        session = folder.path() / "session.html";
        season = folder.path() / "season.html";
        const std::filesystem::path film = folder.path() / "film.mp4";
        write_film(film);
        const test::Practice practice = test::made_up_practice(film.string());
        const auto rule_set = season_rules(practice.made.library.seasons.front(), {});
        REQUIRE(rule_set);
        const auto one = session_view(practice.made.library, *rule_set, practice.made.analyses, practice.last_session);
        REQUIRE(one);
        const auto all = season_view(practice.made.library, *rule_set, practice.made.analyses, "season");
        REQUIRE(all);
        const FilmOf film_of = [&](const journal::Clip&) { return Result<std::filesystem::path>{film}; };
        const auto written = write_session_report(*one, &*all, film_of, {.out = session});
        REQUIRE(written);
        CHECK(written->remarks.empty());
        REQUIRE(write_season_report(*all, &*one, film_of, {.out = season}));
    }
};

void check_quiet(const test::PageVisit& visit) {
    CHECK(visit.dom.find("Take care") != std::string::npos);
    CHECK(visit.log.find("CONSOLE") == std::string::npos);
    for (const std::string& address : visit.addresses) {
        CAPTURE(address);
        CHECK(address.starts_with("data:"));
    }
}

}  // namespace

TEST_CASE("the browser these tests need is installed") {
    REQUIRE(test::has_browser());
}

TEST_CASE("a page that asks for something, complains and runs is noticed") {
    const test::TemporaryFolder folder;
    const std::filesystem::path page = folder.path() / "loud.html";
    std::ofstream{page}
        << "<img src='http://example.invalid/a.png'><script>document.title='ran';console.log('x')</script>";
    const test::PageVisit visit = test::visit(page, folder.path());
    CHECK(visit.dom.find("<title>ran</title>") != std::string::npos);
    CHECK(visit.log.find("CONSOLE") != std::string::npos);
    REQUIRE(visit.addresses.size() == 1);
    CHECK(visit.addresses.front() == "http://example.invalid/a.png");
}

TEST_CASE("the report asks for nothing, runs nothing and complains about nothing") {
    const Pages pages;
    const test::PageVisit session = test::visit(pages.session, pages.folder.path());
    check_quiet(session);
    CHECK(session.dom.find("&lt;script&gt;document.title='ran'") != std::string::npos);
    CHECK(session.dom.find("<title>Practice on 16 May 2026</title>") != std::string::npos);
    CHECK(session.dom.find("<script") == std::string::npos);
    check_quiet(test::visit(pages.season, pages.folder.path()));
}

TEST_CASE("the report is not wider than a phone's window, and its stills show") {
    const Pages pages;
    const std::string session = test::visit(frame_around(pages.session, 390), pages.folder.path()).dom;
    CAPTURE(session.substr(session.find("</script>")));
    CHECK(session.find("sticks out 0 title Practice on 16 May 2026 images 4") != std::string::npos);
    const std::string narrow = test::visit(frame_around(pages.session, 320), pages.folder.path()).dom;
    CHECK(narrow.find("sticks out 0 title") != std::string::npos);
    const std::string season = test::visit(frame_around(pages.season, 390), pages.folder.path()).dom;
    CAPTURE(season.substr(season.find("</script>")));
    CHECK(season.find("sticks out 0 title Spring show images 4") != std::string::npos);
}
