#pragma once
/// Everything the window shows, as plain data. Views read it, commands change it (command.hpp, apply.hpp), jobs and the
/// player bring news (news.hpp). Textures, threads and text boxes are not in here.
#include <cstdint>
#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/change.hpp"
#include "app/choosing.hpp"
#include "app/drawing.hpp"
#include "app/filmed.hpp"
#include "app/keys.hpp"
#include "app/pair.hpp"
#include "app/picture_view.hpp"
#include "app/ribbon_scale.hpp"
#include "app/settings.hpp"
#include "journal/corrected_segments.hpp"
#include "journal/library.hpp"
#include "media/frame_index.hpp"
#include "media/probe.hpp"
#include "posing/analysis.hpp"
#include "rules/rule_set.hpp"
#include "share/measure.hpp"

namespace quarterturn::app {

enum class Place { start, library, clip, pair, keys, settings };

/// Landmarks of the whole clip, where they were measured: one row per measured picture.
struct JointTrack {
    std::vector<std::int64_t> pts;
    std::vector<std::vector<NamedSpot>> joints;  ///< those that are seen
};

/// The body's outline in one picture.
struct Outline {
    std::int64_t pts = 0;
    std::vector<std::pair<Spot, Spot>> pieces;  ///< short lines, parts of the picture as shown
    std::string reason;                         ///< why there are none
};

/// The clip on the stage.
struct OpenClip {
    std::string fingerprint;  ///< empty until it is known
    std::filesystem::path file;
    media::ClipInfo info;       ///< its rotation is the person's where she set one
    int file_rotation_deg = 0;  ///< what the file itself says
    Filmed filmed;              ///< what all below rests on
    std::shared_ptr<const media::FrameIndex> index;
    bool in_library = false;
    double time_scale = 1;  ///< true seconds per stored second
    std::string session;    ///< id; empty for a clip outside a library
    std::optional<rules::RuleSet> rules;
    std::optional<posing::Analysis> measured;
    std::vector<journal::SegmentSpan> spans;  ///< measured, with the person's corrections laid over
    std::shared_ptr<const JointTrack> joints;
    std::shared_ptr<const Outline> outline;  ///< found last; of a paused picture

    [[nodiscard]] double seconds_of(std::int64_t pts) const;  ///< true seconds from the first picture
    [[nodiscard]] std::int64_t pts_at(double seconds) const;  ///< of the picture on screen then
    [[nodiscard]] double duration_s() const;
    [[nodiscard]] double aspect() const;  ///< width over height as shown, turned by the person's rotation if set
};

struct Playing {
    std::int64_t pts = 0;  ///< of the picture on screen
    bool running = false;
    double speed = 1;
    std::optional<journal::PtsRange> repeat;
    std::optional<std::int64_t> repeat_from;  ///< first end given, second not yet
    std::int64_t dropped = 0;                 ///< pictures, since play was pressed
    bool silent = false;                      ///< no sound device, or the clip has no sound
};

struct Overlays {
    bool skeleton = false, plumb_line = false, levels = false, silhouette = false, thirds = false, drawings = true;
};

enum class NoteFilter { all, to_do, done };

/// What the person looks at and works with.
struct Desk {
    Zooming zooming;
    bool full_screen = false;
    Overlays overlays;
    RibbonSpan ribbon;
    bool show_measured = false;       ///< outlines of the measured holds behind the corrected ones
    std::optional<std::size_t> span;  ///< chosen, in OpenClip::spans
    std::optional<std::string> card;  ///< open: pose id, "" for holds without a pose
    bool card_shows_checklist = false;
    std::size_t item = 0;             ///< chosen on the checklist
    std::optional<std::string> note;  ///< chosen
    bool typing = false;              ///< the chosen note's text has the keyboard
    std::optional<std::int64_t> stretch_from;
    NoteFilter filter = NoteFilter::all;
    std::optional<rules::Topic> topic;  ///< only this one
    std::string search;
    bool search_wanted = false;  ///< the search box asks for the keyboard
    std::optional<DrawingKind> tool;
    std::vector<Spot> started;                ///< points of the drawing being made
    std::vector<std::string> started_joints;  ///< beside them
    bool filmed_open = false;                 ///< the panel of how the clip was filmed
    std::optional<Spot> athlete_aim;          ///< the person is asked who the athlete is; where the cross stands
    struct Drag {
        std::size_t span = 0;
        bool end = false;  ///< its end, else its start
        std::int64_t pts = 0;
    };
    std::optional<Drag> drag;
};

/// A note that has no text yet: it is kept here until the first letter.
struct Draft {
    journal::Note note;
};

enum class JobKind { analysis, adding, stills, demo, opening, comparing };
struct JobLine {
    std::uint64_t id = 0;
    JobKind kind = JobKind::analysis;
    std::string title;  ///< "Measuring front_poses.mp4"
    std::string clip;   ///< fingerprint, where it is about one
    double share = 0;   ///< 0..1
    bool waiting = true;
};

struct Message {
    std::uint64_t id = 0;
    std::string text;
    bool trouble = false;  ///< stays until it is put away
    double age_s = 0;
};

/// An edit on its way to the disk.
struct Pending {
    std::uint64_t number = 0;
    Edit edit;
};

/// Something that state alone cannot do; the window's main loop carries it out.
struct Request {
    struct Show {
        std::int64_t pts;
    };  // a picture, while paused; the latest wins
    struct Play {
        std::int64_t from;
        double speed;
        std::optional<journal::PtsRange> repeat;
    };
    struct Pause {};
    struct Save {
        std::uint64_t number;
        Edit edit;
    };
    struct OpenFilm {
        std::filesystem::path file;
        std::string fingerprint;
    };
    struct OpenLibrary {
        std::filesystem::path folder;
    };
    struct CreateLibrary {
        std::filesystem::path folder;
        std::string title;
    };
    struct MakeDemo {
        std::filesystem::path folder;
    };
    struct ChooseFiles {
        Choosing choosing;
    };
    struct AddFilms {
        std::vector<std::filesystem::path> files;
        std::string season;
    };
    struct Analyse {
        std::string fingerprint;
        std::filesystem::path file;
    };
    /// What the cache has for a clip as it is set now.
    struct LookUp {
        std::string fingerprint;
    };
    struct CheckMeasured {};  ///< of every clip of the library
    struct Cancel {
        std::uint64_t job;
    };
    struct SaveSettings {};
    struct FullScreen {
        bool on;
    };
    /// Measures what is missing of both sides and compares them. `kept`: sides that are there already, so that only
    /// pairing and comparing are done again.
    struct Compare {
        PairChoice now;
        std::optional<PairChoice> before;
        std::shared_ptr<const PairMade> kept;
        std::uint64_t number;
    };
    struct OpenPairFilms {
        std::shared_ptr<const PairMade> made;
        std::size_t now_take, before_take;
    };
    struct ShowPair {
        std::int64_t now_pts, before_pts;
    };
    struct PlayPair {};  ///< from PairDesk's clock on
    struct PausePair {};
    struct MatchLight {
        std::shared_ptr<const PairMade> made;
        std::size_t pair;
    };
    struct TraceOutline {
        std::shared_ptr<const PairMade> made;
        std::size_t before_take;
        std::int64_t pts;
    };  // of the earlier body, while paused; the latest wins
    struct Quit {};
    using Any = std::variant<Show, Play, Pause, Save, OpenFilm, OpenLibrary, CreateLibrary, MakeDemo, ChooseFiles,
                             AddFilms, Analyse, LookUp, CheckMeasured, Cancel, SaveSettings, FullScreen, Compare,
                             OpenPairFilms, ShowPair, PlayPair, PausePair, MatchLight, TraceOutline, Quit>;
};

/// A clip on the library page that is to go to another session.
struct Moving {
    std::string clip;     ///< fingerprint
    std::string session;  ///< pointed at; the clip's own at first
};

struct ReviewState {
    Place place = Place::start;
    Settings settings;
    Keymap keymap;
    std::filesystem::path settings_folder;

    std::filesystem::path library_folder;
    std::optional<journal::Library> library;  ///< as saved, with the pending edits laid over
    std::vector<Pending> pending;
    std::uint64_t next_number = 1;
    std::optional<std::string> save_trouble;  ///< why pending edits are not on disk; they are tried again
    bool leave_anyway = false;                ///< the person was told so when quitting
    History history;
    std::string season;        ///< chosen on the library page
    std::string session;       ///< unfolded there
    std::string library_clip;  ///< chosen there: fingerprint
    std::optional<Moving> moving;
    std::map<std::string, share::MeasuredState>
        measured;  ///< of the library's clips, by fingerprint; as last looked at

    std::optional<OpenClip> clip;
    Playing playing;
    Desk desk;
    std::optional<Draft> draft;
    PairDesk pair;

    bool file_dialog = false;  ///< the desktop has one

    std::vector<JobLine> jobs;
    std::vector<Message> messages;
    std::uint64_t next_message = 1;
    std::vector<Request::Any> requests;

    [[nodiscard]] journal::Author author() const;
    [[nodiscard]] bool saved() const { return pending.empty(); }
};

/// Tells the person something; trouble stays on screen until it is put away.
void tell(ReviewState& state, std::string text, bool trouble = false);

}  // namespace quarterturn::app
