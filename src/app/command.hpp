#pragma once
/// What a person can ask for. Views and keys emit these; apply() is the only thing that changes the state.
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "app/pair_command.hpp"
#include "app/state.hpp"

namespace quarterturn::app {

/// A key that was pressed; does what it stands for on this screen.
struct Press {
    Action action;
};

// Playing
struct TogglePlay {};
struct Seek {
    std::int64_t pts;
};  ///< to the picture on screen at this tick
struct SeekSeconds {
    double seconds;
};
struct SetSpeed {
    double speed;
};  ///< kept in 0.1 .. 2
struct SetRepeat {
    std::optional<journal::PtsRange> range;
};

// Looking
struct SetZooming {
    Zooming zooming;
};
struct SetRibbon {
    RibbonSpan span;
};
struct SetOverlays {
    Overlays overlays;
};
struct SetFullScreen {
    bool on;
};
struct ShowMeasured {
    bool on;
};

// Holds
struct ChooseSpan {
    std::optional<std::size_t> span;
};  ///< also goes to its start
struct DragBound {
    std::size_t span;
    bool end;
    std::int64_t pts;
};                    ///< while dragging
struct DropBound {};  ///< let go: becomes a correction
struct Relabel {
    std::size_t span;
    std::optional<std::string> pose;
};
struct SplitAt {
    std::size_t span;
    std::int64_t pts;
};
struct JoinNext {
    std::size_t span;
};
struct AddHold {
    std::int64_t pts;
    std::optional<std::string> pose;
};
struct RemoveHold {
    std::size_t span;
};
struct BackToMeasured {
    std::size_t span;
};

// Cards
struct OpenCard {
    std::optional<std::string> pose;
};  ///< also goes to its longest hold
struct TurnCard {
    bool checklist;
};
struct ChooseItem {
    std::size_t item;
};
struct SetMark {
    std::string pose, item;
    std::optional<int> value;
};

// Notes
struct PinNote {};
struct StretchFrom {};
struct StretchTo {};
struct ChooseNote {
    std::optional<std::string> id;
};
struct TypeNote {
    std::string id, text;
};
struct FinishTyping {};
struct SetTopic {
    std::string id;
    rules::Topic topic;
};
struct SetDone {
    std::string id;
    bool done;
};
struct RemoveNote {
    std::string id;
};
struct FilterNotes {
    NoteFilter filter;
    std::optional<rules::Topic> topic;
};
struct SearchNotes {
    std::string text;
};
struct SearchFocused {};

// Drawing
struct TakeTool {
    std::optional<DrawingKind> tool;
};
struct DrawPoint {
    Spot spot;
};  ///< button pressed
struct DrawOn {
    Spot spot;
};                  ///< moved with the button down
struct DrawEnd {};  ///< button let go
struct RemoveDrawing {
    std::string note;
    std::size_t drawing;
};

// How the open clip was filmed
struct ShowFilmed {
    bool on;
};
struct TurnFilm {
    std::optional<int> rotation_deg;
};  ///< as Filmed
struct TiltFilm {
    std::optional<double> tilt_deg;
};  ///< as Filmed
struct SetTimeScale {
    double time_scale;
};
struct SetMirrored {
    bool on;
};
struct AskForAthlete {
    bool on;
};  ///< the next press on the picture says who she is
struct AimAtAthlete {
    Spot spot;
};  ///< moves the cross
struct ShowAthlete {
    Spot spot;
};                       ///< on the picture on screen
struct FollowAnyone {};  ///< the program chooses again

struct Undo {};
struct Redo {};

// Places and the library
struct GoTo {
    Place place;
};
struct OpenFile {
    std::filesystem::path file;
};
struct OpenFromLibrary {
    std::string fingerprint;
};
struct UseLibrary {
    std::filesystem::path folder;
};
struct NewLibrary {
    std::filesystem::path folder;
    std::string title;
};
struct NewDemo {
    std::filesystem::path folder;
};
struct NewSeason {
    journal::Season season;
};
struct ChooseSeason {
    std::string season;
};
struct ChooseSession {
    std::string session;
};
struct ChooseClip {
    std::string fingerprint;
};  ///< in the list
struct StartMoving {
    std::optional<std::string> fingerprint;
};  ///< absent: not after all
struct PointAtSession {
    std::string session;
};
struct MoveClip {
    std::string fingerprint, session;
};  ///< its notes go along
struct AddFilms {
    std::vector<std::filesystem::path> files;
};
struct ChooseFiles {
    Choosing choosing;
};  ///< in the desktop's file dialog
struct MoveSession {
    std::string session;
    Date date;
};
struct SetClip {
    journal::Clip clip;
    std::string title;
};  ///< counts, mirrored, speed...
struct TakeClipOut {
    std::string fingerprint;
};
struct AnalyseClip {
    std::string fingerprint;
};
struct AnalyseSession {
    std::string session;
};
struct CancelJob {
    std::uint64_t job;
};
struct SetSettings {
    Settings settings;
};
struct HideBodyNumbers {
    bool on;
};
struct PutAway {
    std::uint64_t message;
};
struct Quit {};

using Command = std::variant<
    Press, TogglePlay, Seek, SeekSeconds, SetSpeed, SetRepeat, SetZooming, SetRibbon, SetOverlays, SetFullScreen,
    ShowMeasured, ChooseSpan, DragBound, DropBound, Relabel, SplitAt, JoinNext, AddHold, RemoveHold, BackToMeasured,
    OpenCard, TurnCard, ChooseItem, SetMark, PinNote, StretchFrom, StretchTo, ChooseNote, TypeNote, FinishTyping,
    SetTopic, SetDone, RemoveNote, FilterNotes, SearchNotes, SearchFocused, TakeTool, DrawPoint, DrawOn, DrawEnd,
    RemoveDrawing, ShowFilmed, TurnFilm, TiltFilm, SetTimeScale, SetMirrored, AskForAthlete, AimAtAthlete, ShowAthlete,
    FollowAnyone, Undo, Redo, GoTo, OpenFile, OpenFromLibrary, UseLibrary, NewLibrary, NewDemo, NewSeason, ChooseSeason,
    ChooseSession, ChooseClip, StartMoving, PointAtSession, MoveClip, ChooseFiles, AddFilms, MoveSession, SetClip,
    TakeClipOut, AnalyseClip, AnalyseSession, CancelJob, SetSettings, HideBodyNumbers, PutAway, PairCommand, Quit>;

using Commands = std::vector<Command>;

}  // namespace quarterturn::app
