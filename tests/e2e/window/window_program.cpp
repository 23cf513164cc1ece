/// The window alone, for tests and for the pictures in docs: opens a library, or makes a small one from a film,
/// and from one of an earlier season.
#include <cstdio>
#include <cstdlib>
#include <string>

#include "app/app.hpp"
#include "journal/store.hpp"
#include "media/fingerprint_of.hpp"
#include "share/measure.hpp"

using namespace quarterturn;

namespace {

const journal::Author mara{"Mara", journal::Role::athlete};

struct Practice {
    const char *title, *show_date, *date;
};

// A season with one session that holds the film.
Status add_season(journal::Store& store, const Practice& practice, const std::filesystem::path& film) {
    journal::Season season;
    season.title = practice.title;
    season.show_date = *parse_date(practice.show_date);
    season.rule_set = "womens_figure";
    season.barefoot_height_cm = 168;
    const auto added = store.add_season(season, mara);
    if (!added) return added.error();
    const auto fingerprint = media::fingerprint_of(film);
    if (!fingerprint) return fingerprint.error();
    journal::ClipFacts facts;
    facts.fingerprint = *fingerprint;
    facts.path = std::filesystem::absolute(film);
    facts.file_bytes = std::filesystem::file_size(film);
    journal::AddOptions options;
    options.date = *parse_date(practice.date);
    const auto clips = store.add_clips(added->id, {&facts, 1}, options, mara);
    return clips ? ok() : Status{clips.error()};
}

// One season with the film, measured, and a coach's note.
Status make_library(const std::filesystem::path& folder, const std::filesystem::path& film) {
    auto store = journal::Store::create(folder, "Mara's posing", mara);
    if (!store) return store.error();
    if (Status s = add_season(*store, {"Spring show", "2026-05-30", "2026-03-07"}, film); !s) return s;
    const auto library = store->read();
    if (!library) return library.error();
    const auto& clip = library->clips.front();
    const auto analysis = share::measure_clip(*store, *library, clip, {});
    if (!analysis) return analysis.error();
    journal::Note note;
    note.session = clip.session;
    note.clip = clip.id;
    note.text = "Twist comes from the waist here: keep the hips square to the side";
    note.topic = rules::Topic::twist_versus_sway;
    note.pose = "quarter_left_side";
    for (const auto& segment : analysis->segments)
        if (segment.pose == note.pose)
            note.moment = journal::ClipMoment{segment.steadiest_pts, std::nullopt, analysis->clip.time_base};
    const auto written = store->add_note(note, {"Ilse", journal::Role::coach});
    return written ? ok() : Status{written.error()};
}

// A season a year before, not measured yet: what the page with two takes compares with.
Status add_earlier_season(const std::filesystem::path& folder, const std::filesystem::path& film) {
    auto store = journal::Store::open(folder);
    if (!store) return store.error();
    return add_season(*store, {"Spring show, first year", "2025-05-31", "2025-03-08"}, film);
}

}  // namespace

int main(int argc, char** argv) {
    app::AppOptions options;
    options.remember_library = false;
    for (int i = 1; i + 1 < argc; i += 2) {
        const std::string name = argv[i];
        const std::string value = argv[i + 1];
        if (name == "--library") options.library = value;
        if (name == "--clip") options.clip = value;
        if (name == "--scale") options.scale = std::atof(value.c_str());
        if (name == "--size") std::sscanf(value.c_str(), "%dx%d", &options.width, &options.height);
        if (name == "--make" && i + 2 < argc) {
            Status made = make_library(value, argv[i + 2]);
            if (made && i + 3 < argc) made = add_earlier_season(value, argv[i + 3]);
            if (!made) std::fprintf(stderr, "%s\n", made.error().detail.c_str());
            return made ? 0 : 1;
        }
    }
    return app::run(options);
}
