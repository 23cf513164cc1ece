/// Cost of one window frame (without a new picture) against replaying the draw data it recorded, on the same renderer
/// in the same run, on every page, well filled. Processor time is of all threads, the renderer's too: it is what counts
/// on a busy machine. Needs a display: tests/on_a_screen.sh build/dev/bin/window_bench
#include <backends/imgui_impl_opengl3.h>
#include <fmt/format.h>

#include <cmath>
#include <functional>

#include "../app/two_takes.hpp"
#include "app/window/gl.hpp"
#include "app/window/window.hpp"
#include "bench_films.hpp"

using namespace quarterturn;
using namespace quarterturn::app;

namespace {

constexpr int width = 1280, height = 800;

/// Ten minutes with forty holds, curves, sixty notes and marks: more than a practice has.
ReviewState full_clip() {
    ReviewState state = desk();
    auto index = std::make_shared<media::FrameIndex>();
    index->time_base = {1, 1000};
    for (int i = 0; i < 18000; ++i) index->pictures.push_back({i * 1000 / 30, i * 1000 / 30, i % 30 == 0});
    OpenClip clip = *state.clip;
    clip.index = index;
    posing::Analysis analysis = *clip.measured;
    analysis.segments.clear();
    const auto& poses = clip.rules->poses;
    for (int i = 0; i < 40; ++i)
        for (const bool hold : {true, false}) {
            posing::Segment segment;
            segment.kind = hold ? posing::SegmentKind::hold : posing::SegmentKind::transition;
            segment.start_pts = i * 15000 + (hold ? 0 : 9000);
            segment.end_pts = segment.start_pts + (hold ? 9000 : 6000);
            segment.start_s = static_cast<double>(segment.start_pts) / 1000;
            segment.end_s = static_cast<double>(segment.end_pts) / 1000;
            segment.steadiest_pts = segment.start_pts + 3000;
            if (hold) segment.pose = poses[static_cast<std::size_t>(i) % poses.size()].pose;
            analysis.segments.push_back(segment);
        }
    for (int i = 0; i < 18000; ++i) {
        analysis.signals.t_s.push_back(i / 30.0);
        for (auto* curve : {&analysis.signals.stillness, &analysis.signals.twist_deg, &analysis.signals.sway_cm})
            curve->push_back(0.5 + 0.5 * std::sin(i * 0.03));
    }
    clip.measured = std::move(analysis);
    for (int i = 0; i < 60; ++i) {
        journal::Note note;
        note.id = "note" + std::to_string(i);
        note.session = "session";
        note.clip = clip.fingerprint;
        note.text = "Shoulders down before the arms come up, and keep the hips square to the judges";
        note.moment = journal::ClipMoment{i * 9000, std::nullopt, {1, 1000}};
        note.pose = poses[static_cast<std::size_t>(i) % poses.size()].pose;
        note.author = {"Ilse", journal::Role::coach};
        state.library->notes.push_back(note);
    }
    absorb(state, FilmOpened{std::move(clip), nullptr});
    (void)apply(state, OpenCard{"quarter_front"}).has_value();
    return state;
}

ReviewState full_library() {
    ReviewState state = full_clip();
    for (int i = 0; i < 60; ++i) {
        journal::Session session = state.library->sessions.front();
        session.id = "session" + std::to_string(i);
        journal::Clip clip = state.library->clips.front();
        clip.id = "sha256:" + std::to_string(i) + std::string(60, 'c');
        clip.session = session.id;
        clip.original_name = "practice_" + std::to_string(i) + ".mp4";
        state.library->sessions.push_back(session);
        state.library->clips.push_back(clip);
    }
    (void)apply(state, GoTo{Place::library}).has_value();
    return state;
}

ReviewState with(ReviewState state, const Command& command) {
    (void)apply(state, command).has_value();
    return state;
}

struct Cost {
    std::vector<double> time, processor;
    void add(const std::function<void()>& work) {
        const bench::Stopwatch watch;
        const bench::CpuWatch used;
        work();
        processor.push_back(used.ms());
        time.push_back(watch.ms());
    }
};

void draw_recorded() {
    glClear(GL_COLOR_BUFFER_BIT);
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    glFinish();
}

void measure(window::Window& window, const std::string& name, const ReviewState& state) {
    views::Scratch scratch;
    Cost frame, replay;
    // The film's picture is in both: any texture will do.
    const ImTextureID film = ImGui::GetIO().Fonts->TexID;
    for (int i = 0; i < 90; ++i) {
        window.wait(0);
        Cost frame_now, replay_now;
        frame_now.add([&] {
            Commands out;
            window.begin_frame();
            const auto cards = state.place == Place::clip ? cards_of(state) : std::vector<Card>{};
            views::View view{state,
                             out,
                             palette(Theme::light),
                             window.fonts(),
                             1,
                             scratch,
                             film,
                             [](std::int64_t, ImVec2&) -> ImTextureID { return nullptr; },
                             cards};
            if (state.place == Place::pair) view.pair_now = view.pair_before = film;
            views::draw_everything(view, width, height);
            ImGui::Render();
            draw_recorded();
        });
        replay_now.add(draw_recorded);
        if (i < 10) continue;  // fonts and caches warm up
        for (auto [all, one] : {std::pair{&frame, &frame_now}, std::pair{&replay, &replay_now}}) {
            all->time.push_back(one->time[0]);
            all->processor.push_back(one->processor[0]);
        }
    }
    fmt::print(
        "{:22} frame {:6.2f} ms, replay {:6.2f} ms, ratio {:.2f}; processor {:6.2f} and {:6.2f} ms, ratio {:.2f}\n",
        name, bench::median(frame.time), bench::median(replay.time),
        bench::median(frame.time) / bench::median(replay.time), bench::median(frame.processor),
        bench::median(replay.processor), bench::median(frame.processor) / bench::median(replay.processor));
}

}  // namespace

int main() {
    auto window = window::Window::open({width, height, true, "quarterturn"});
    if (!window) return fmt::print("{}\n", window.error().detail), 1;
    (*window)->dress(Theme::light, 1, {});
    fmt::print("ratios must be at most 1.3\n");
    measure(**window, "clip, notes", full_clip());
    measure(**window, "clip, checklist", with(full_clip(), TurnCard{true}));
    measure(**window, "library, 61 sessions", full_library());
    measure(**window, "two takes", TwoTakes().state);
    measure(**window, "keys", with(full_clip(), GoTo{Place::keys}));
    measure(**window, "settings", with(full_clip(), GoTo{Place::settings}));
    return 0;
}
