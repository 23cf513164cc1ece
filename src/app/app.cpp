#include "app/app.hpp"

#include <cstdio>

#include "app/clock.hpp"
#include "app/desktop.hpp"
#include "app/window/aligned_picture.hpp"
#include "app/window/stills.hpp"
#include "app/window/window.hpp"
#include "app/window/yuv_program.hpp"

namespace quarterturn::app {
namespace {

// Texts from people may be in any script.
void need_characters(NeededCharacters& needed, const ReviewState& state) {
    if (state.library) {
        needed.add(state.library->title);
        for (const auto& note : state.library->notes) needed.add(note.text), needed.add(note.author.name);
        for (const auto& season : state.library->seasons) needed.add(season.title);
        for (const auto& session : state.library->sessions) needed.add(session.title);
        for (const auto& clip : state.library->clips) needed.add(clip.original_name);
    }
    if (state.clip) needed.add(state.clip->file.filename().string());
}

class Program {
  public:
    Program(const AppOptions& options, window::Window& window)
        : options_(options), window_(window), desktop_(options, window::Window::wake) {}

    void run() {
        desktop_.begin();
        double last = steady_seconds();
        int restless = 3;
        while (true) {
            if (options_.before_turn) options_.before_turn();
            if (window_.closing()) {
                window_.stay_open();
                desktop_.ask(Quit{});
            }
            // Widgets settle over a few frames after each event.
            window_.wait(restless > 0 ? std::min(0.008, desktop_.nap()) : desktop_.nap());
            const double now = steady_seconds();
            take_input();
            auto turn = desktop_.turn(now - last);
            last = now;
            if (turn.quit) return;
            take_turn(turn);
            restless = draw() ? 3 : restless - 1;
        }
    }

  private:
    void take_input() {
        for (const Chord& chord : window_.take_chords()) {
            const auto action = desktop_.state().keymap.action_for(chord);
            if (!action) continue;
            if (*action == Action::leave || *action == Action::finish_typing) window_.stop_typing();
            desktop_.ask(Press{*action});
            if (*action == Action::search_notes) search();
        }
        if (auto drops = window_.take_drops(); !drops.empty()) desktop_.ask(AddFilms{std::move(drops)});
    }

    void search() {
        Desk& desk = desktop_.state().desk;
        if (!desk.card) desktop_.ask(OpenCard{""});
        desk.card_shows_checklist = false;
        desk.search_wanted = true;
    }

    void take_turn(Desktop::Turn& turn) {
        if (turn.film_changed) film_shown_ = false;
        if (turn.film_changed || turn.stills_changed) stills_.clear();
        for (const StillMade& still : turn.stills) stills_.put(still.pts, still.image);
        take_pair(turn.pair);
        if (turn.full_screen) window_.full_screen(*turn.full_screen);
        const auto& clip = desktop_.state().clip;
        if (!turn.picture || !clip) return;
        yuv_.upload(*turn.picture, clip->info.rotation_deg, clip->info.flipped);
        film_shown_ = true;
    }

    void take_pair(PairRunner::Pictures& pictures) {
        if (pictures.changed) pair_shown_ = {};
        const auto& films = desktop_.state().pair.films;
        if (!films) return;
        if (pictures.now) {
            pair_now_.upload(*pictures.now, films->now_info.rotation_deg, films->now_info.flipped);
            pair_shown_.now = true;
        }
        if (pictures.before) {
            pair_before_.upload(*pictures.before, films->before_info.rotation_deg, films->before_info.flipped);
            pair_shown_.before = pair_fresh_ = true;
        }
    }

    // Both pictures in the frame of the later one, mirrored back where they are mirrored.
    void draw_pair(views::View& view, int rows) {
        const PairDesk& desk = view.state.pair;
        if (view.state.place != Place::pair || !desk.films || !pair_shown_.now || !pair_shown_.before) return;
        const media::ClipInfo &now = desk.films->now_info, &before = desk.films->before_info;
        const int height = std::min(rows, std::max(now.shown_height(), before.shown_height()));
        const double aspect = static_cast<double>(now.shown_width()) / std::max(1, now.shown_height());
        window::AlignedPicture::How how;
        how.height = height;
        how.width = std::max(1, static_cast<int>(height * aspect));
        how.to_picture = to_earlier_picture(desk);
        if (desk.match_light && desk.gains) how.gains = *desk.gains;
        const auto id = [](unsigned int texture) {
            return reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(texture));
        };
        view.pair_now = id(pair_now_.draw(rows));
        const bool fresh = std::exchange(pair_fresh_, false);
        view.pair_before = id(aligned_.draw(pair_before_.draw(2160), fresh, how));
    }

    // @return whether something was asked for, so that more frames should follow at once
    bool draw() {
        ReviewState& state = desktop_.state();
        need_characters(needed_, state);
        const float scale = static_cast<float>((options_.scale > 0 ? options_.scale : window_.screen_scale()) *
                                               state.settings.text_scale);
        window_.dress(state.settings.theme, scale, needed_);
        int width = 0, height = 0;
        window_.size(width, height);
        if (width <= 0 || height <= 0) return false;
        const int rows = static_cast<int>(static_cast<double>(height) * state.desk.zooming.factor);
        const unsigned int film = film_shown_ && state.place == Place::clip ? yuv_.draw(rows) : 0;
        window_.begin_frame();
        Commands asked;
        const auto cards = state.place == Place::clip ? cards_of(state) : std::vector<Card>{};
        views::View view{state,
                         asked,
                         palette(state.settings.theme),
                         window_.fonts(),
                         scale,
                         scratch_,
                         reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(film)),
                         [&](std::int64_t pts, ImVec2& size) { return stills_.find(pts, size); },
                         cards};
        draw_pair(view, static_cast<int>(static_cast<double>(height) * state.pair.zooming.factor));
        views::draw_everything(view, static_cast<float>(width), static_cast<float>(height));
        window_.end_frame(palette(state.settings.theme).paper);
        for (const Command& command : asked) desktop_.ask(command);
        const ImGuiIO& io = ImGui::GetIO();
        const bool moved = io.MouseDelta.x != 0 || io.MouseDelta.y != 0 || io.MouseWheel != 0 ||
                           ImGui::IsAnyMouseDown() || io.WantTextInput;
        return !asked.empty() || moved;
    }

    AppOptions options_;
    window::Window& window_;
    Desktop desktop_;
    window::YuvProgram yuv_, pair_now_, pair_before_;
    window::AlignedPicture aligned_;
    window::Stills stills_;
    views::Scratch scratch_;
    NeededCharacters needed_;
    bool film_shown_ = false, pair_fresh_ = false;
    struct {
        bool now = false, before = false;
    } pair_shown_;
};

}  // namespace

int run(const AppOptions& options) {
    auto window = window::Window::open({options.width, options.height, true, "quarterturn"});
    if (!window) {
        std::fprintf(stderr, "%s\n", window.error().detail.c_str());
        return 1;
    }
    Program(options, **window).run();
    return 0;
}

}  // namespace quarterturn::app
