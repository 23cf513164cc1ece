#include "app/desktop.hpp"

#include <cstdlib>

#include "app/apply.hpp"
#include "app/cards.hpp"
#include "app/joints.hpp"
#include "base/places.hpp"

namespace quarterturn::app {
namespace {

template <class... Options>
struct Cases : Options... {
    using Options::operator()...;
};
template <class... Options>
Cases(Options...) -> Cases<Options...>;

std::string text_of_variable(const char* name) {
    const char* text = std::getenv(name);
    return text != nullptr ? text : "";
}

share::Upright upright_of(const OpenClip& clip) {
    return {clip.filmed.rotation_deg, clip.filmed.tilt_deg.value_or(0), clip.filmed.mirrored};
}

/// What the page shows: parts of the picture, or why there is none.
Outline outline_for(std::int64_t pts, const Result<body::OutlinePieces>& found, double width, double height) {
    Outline out{pts, {}, found ? "Nobody was found in this picture." : found.error().detail};
    if (!found || found->empty()) return out;
    out.reason.clear();
    for (const auto& [a, b] : *found)
        out.pieces.emplace_back(Spot{a.x / width, a.y / height}, Spot{b.x / width, b.y / height});
    return out;
}

}  // namespace

Desktop::Desktop(const AppOptions& options, std::function<void()> wake)
    : options_(options),
      wake_(std::move(wake)),
      news_(wake_),
      keeper_(news_),
      looking_(news_, false),
      measuring_(news_, true),
      checking_(news_, false),
      pair_(news_, wake_),
      file_dialog_(find_dialog_program(text_of_variable("PATH"))) {
    state_.file_dialog = file_dialog_.available();
    state_.settings_folder = settings_folder();
    Preferences preferences = load_preferences(state_.settings_folder);
    state_.settings = std::move(preferences.settings);
    state_.keymap = std::move(preferences.keymap);
    for (const Error& trouble : preferences.troubles) tell(state_, trouble.detail, true);
}

Desktop::~Desktop() {
    player_.reset();
    pair_.stop();
    looking_.cancel_all();
    measuring_.cancel_all();
    checking_.cancel_all();
}

void Desktop::begin() {
    std::filesystem::path folder = options_.library;
    if (folder.empty()) folder = state_.settings.last_library;
    if (folder.empty() || !std::filesystem::exists(folder))
        folder = options_.library.empty() ? default_library_folder() : folder;
    std::error_code error;
    if (std::filesystem::exists(folder, error) || !options_.library.empty()) keeper_.open(folder);
    if (!options_.clip.empty()) ask(OpenFile{options_.clip});
}

void Desktop::ask(const Command& command) {
    if (auto done = apply(state_, command); !done) tell(state_, done.error().detail);
}

Desktop::Turn Desktop::turn(double seconds) {
    Turn turn;
    for (News& piece : news_.take()) {
        if (auto* film = std::get_if<FilmOpened>(&piece)) opened(*film, turn);
        if (auto* films = std::get_if<PairFilmsOpened>(&piece); films != nullptr && films->made == state_.pair.made)
            pair_.opened(*films);
        if (auto* still = std::get_if<StillMade>(&piece)) {
            if (state_.clip && state_.clip->file == still->file && upright_of(*state_.clip) == still->upright)
                turn.stills.push_back(std::move(*still));
            continue;
        }
        if (const auto* read = std::get_if<LibraryRead>(&piece);
            read != nullptr && read->opened && options_.remember_library) {
            state_.settings.last_library = read->folder.string();
            state_.requests.push_back(Request::SaveSettings{});
        }
        const Place place = state_.place;
        const bool keep_place =
            std::holds_alternative<LibraryRead>(piece) && (place == Place::clip || place == Place::pair);
        absorb(state_, std::move(piece));
        if (keep_place) state_.place = place;
    }
    take_player_news(turn);
    take_chosen_files();
    turn.pair = pair_.turn(state_);
    for (const Request::Any& request : std::exchange(state_.requests, {})) carry_out(request, turn);
    take_upright(turn);
    want_stills();
    want_outline();
    for (Message& message : state_.messages) message.age_s += seconds;
    std::erase_if(state_.messages, [](const Message& m) { return !m.trouble && m.age_s > 6; });
    return turn;
}

void Desktop::opened(FilmOpened& news, Turn& turn) {
    // Ending the old player may wait for a picture being decoded: not on the window's time.
    if (player_)
        looking_.add(JobKind::opening, "", "",
                     [old = std::shared_ptr<Player>(std::move(player_))](auto, const auto&) mutable { old.reset(); });
    sound_on_ = state_.settings.sound;
    sound_.open(sound_on_ ? news.clip.file : std::filesystem::path());
    PlayerSettings settings;
    settings.wake = wake_;
    player_ = std::make_unique<Player>(std::move(news.source), &sound_, std::move(settings));
    stills_wanted_.clear();
    outline_wanted_.reset();
    turn.film_changed = true;
}

void Desktop::settings_changed() {
    if (auto saved = save_settings(state_.settings_folder, state_.settings); !saved)
        tell(state_, saved.error().detail, true);
    if (state_.settings.sound == sound_on_ || !state_.clip || !player_) return;
    sound_on_ = state_.settings.sound;
    sound_.open(sound_on_ ? state_.clip->file : std::filesystem::path());
    if (state_.playing.running) player_->play(state_.playing.pts, state_.playing.speed, state_.playing.repeat);
}

void Desktop::take_chosen_files() {
    auto chosen = file_dialog_.poll();
    if (!chosen || chosen->paths.empty()) return;
    if (chosen->choosing == Choosing::films)
        ask(AddFilms{std::move(chosen->paths)});
    else
        ask(UseLibrary{chosen->paths.front()});
}

void Desktop::take_player_news(Turn& turn) {
    if (!player_ || !state_.clip) return;
    Player::Now now = player_->poll();
    if (now.picture) {
        state_.playing.pts = now.picture->pts;
        state_.playing.dropped = player_->counts().dropped;
        if (state_.playing.running && state_.place == Place::clip)
            state_.desk.ribbon =
                following(state_.desk.ribbon, state_.clip->seconds_of(now.picture->pts), state_.clip->duration_s());
        turn.picture = std::move(now.picture);
    }
    state_.playing.silent = sound_.silent();
    if (now.ended) state_.playing.running = false;
    if (now.error) tell(state_, now.error->detail, true);
}

LibraryNow Desktop::library_now() const {
    if (!state_.library) return {};
    return {state_.library_folder, std::make_shared<const journal::Library>(*state_.library)};
}

// The small pictures are made again when the clip was turned, tilted or mirrored.
void Desktop::take_upright(Turn& turn) {
    if (!state_.clip || upright_of(*state_.clip) == upright_) return;
    upright_ = upright_of(*state_.clip);
    turn.stills_changed = true;
    looking_.cancel(stills_job_);
    stills_wanted_.clear();
    outline_wanted_.reset();
}

void Desktop::want_stills() {
    if (!state_.clip || state_.place != Place::clip) return;
    std::vector<std::int64_t> wanted;
    for (const Card& card : cards_of(state_))
        if (card.best && stills_wanted_.insert(card.still_pts).second) wanted.push_back(card.still_pts);
    if (wanted.empty()) return;
    stills_job_ =
        looking_.add(JobKind::stills, "", "",
                     [&news = news_, file = state_.clip->file, upright = upright_, wanted](
                         const std::stop_token& stop, const auto&) { make_stills(news, file, upright, wanted, stop); });
}

void Desktop::want_outline() {
    if (!state_.clip || state_.place != Place::clip || state_.playing.running || !state_.clip->index) return;
    if (!state_.desk.overlays.silhouette || outline_wanted_ == state_.playing.pts) return;
    outline_wanted_ = state_.playing.pts;
    looking_.cancel(outline_job_);  // of a picture that is no longer on screen
    const OpenClip& clip = *state_.clip;
    const std::int64_t pts = state_.playing.pts;
    OutlineWanted wanted{clip.file, pts, clip.info.rotation_deg, false, hips_at(clip, pts), clip.index};
    outline_job_ =
        looking_.add(JobKind::stills, "", "",
                     [&news = news_, wanted = std::move(wanted), finder = outline_finder_,
                      width = clip.info.shown_width(), height = clip.info.shown_height()](auto, const auto&) {
                         news.post(OutlineFound{wanted.film, std::make_shared<const Outline>(outline_for(
                                                                 wanted.pts, finder->find(wanted), width, height))});
                     });
}

double Desktop::nap() {
    if (state_.place == Place::pair) return pair_.nap(state_);
    if (!player_) return 0.25;
    const auto next = player_->next_due_in();
    if (next) return std::min(0.25, *next);
    return state_.playing.running ? 0.004 : 0.25;
}

void Desktop::carry_out(const Request::Any& request, Turn& turn) {
    const auto library = state_.library ? state_.library_folder : std::filesystem::path();
    if (pair_.carry_out(request, state_)) return;
    std::visit(
        Cases{[&](const Request::Show& r) {
                  if (player_) player_->show(r.pts);
              },
              [&](const Request::Play& r) {
                  if (player_) player_->play(r.from, r.speed, r.repeat);
              },
              [&](const Request::Pause&) {
                  if (player_) player_->pause();
              },
              [&](const Request::Save& r) {
                  keeper_.save({r.number, r.edit}, state_.author());
              },
              [&](const Request::OpenFilm& r) {
                  looking_.cancel_all();
                  looking_.add(JobKind::opening, "", "",
                               [this, r, now = library_now()](const std::stop_token& stop, const auto&) {
                                   open_film(news_, r.file, r.fingerprint, now, stop);
                               });
              },
              [&](const Request::OpenLibrary& r) { keeper_.open(r.folder); },
              [&](const Request::CreateLibrary& r) { keeper_.create(r.folder, r.title, state_.author()); },
              [&](const Request::MakeDemo& r) {
                  if (!options_.make_demo) return tell(state_, "The demo films did not come with this program.", true);
                  measuring_.add(JobKind::demo, "Making the demo library", "",
                                 [this, r](const std::stop_token& stop, const Progress& progress) {
                                     std::error_code error;
                                     if (!std::filesystem::exists(r.folder, error))
                                         if (auto made = options_.make_demo(r.folder, progress, stop); !made)
                                             return news_.post(Said{made.error().detail, true});
                                     keeper_.open(r.folder);
                                 });
              },
              [&](const Request::ChooseFiles& r) {
                  if (auto shown = file_dialog_.show(r.choosing, text_of_variable("HOME")); !shown)
                      tell(state_, shown.error().detail, true);
              },
              [&](const Request::AddFilms& r) {
                  measuring_.add(JobKind::adding, "Adding films", "",
                                 [this, r, library, author = state_.author()](const std::stop_token& stop,
                                                                              const Progress& progress) {
                                     auto fresh = add_films(news_, r.files, r.season, library, author, progress, stop);
                                     keeper_.refresh([this, fresh] { news_.post(FilmsAdded{fresh}); });
                                 });
              },
              [&](const Request::Analyse& r) {
                  measuring_.add(JobKind::analysis, "Measuring " + r.file.filename().string(), r.fingerprint,
                                 [this, r, now = library_now()](const std::stop_token& stop, const Progress& progress) {
                                     measure(news_, r.file, r.fingerprint, now, progress, stop);
                                 });
              },
              [&](const Request::LookUp& r) {
                  looking_.add(JobKind::opening, "", "", [this, r, now = library_now()](const auto&, const auto&) {
                      look_up(news_, r.fingerprint, now);
                  });
              },
              [&](const Request::CheckMeasured&) {
                  checking_.cancel_all();
                  checking_.add(JobKind::opening, "", "",
                                [this, now = library_now()](const auto&, const auto&) { check_measured(news_, now); });
              },
              [&](const Request::Cancel& r) {
                  measuring_.cancel(r.job);
                  pair_.cancel(r.job);
              },
              [&](const Request::SaveSettings&) { settings_changed(); },
              [&](const Request::FullScreen& r) { turn.full_screen = r.on; },
              [&](const Request::Quit&) { turn.quit = true; }, [](const auto&) {}},  // of the pair
        request);
}

}  // namespace quarterturn::app
