/// Uses the window at random, seeded, for as long as is asked: every page, keys, clicks, drags, the wheel, text, files
/// dropped, sizes, closing and opening again, while another program writes into the same library. What counts is that
/// nothing is found by the sanitizer it is built with and that the library can be read afterwards. Needs a display.
/// usage: random_use [--minutes N | --seconds N] [--seed N] [--film-seconds N]
#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <dlfcn.h>
#include <fmt/format.h>
#include <link.h>

#include <array>
#include <cstdlib>

#include "app/app.hpp"
#include "app/clock.hpp"
#include "app/keys.hpp"
#include "hand.hpp"
#include "journal/store.hpp"
#include "scratch.hpp"
#include "share/demo_library.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;

namespace {

// Letters whose folders a path made of them cannot leave: no slash, no point, no tilde.
constexpr std::array<unsigned, 16> letters{'a',  'Z',  ' ',   '7',   '-',   ',',   '%',    '{',
                                           0xE9, 0xDF, 0x3B1, 0x416, 0x5D0, 0x645, 0x80A9, 0xFFFD};

constexpr std::array pages{app::Action::go_library, app::Action::go_clip, app::Action::go_pair,
                           app::Action::go_pair,    app::Action::go_keys, app::Action::go_settings};

// A library that was unloaded can no longer be named beside what it left behind: the graphics driver goes with the
// window.
void keep_libraries_loaded() {
    std::vector<std::string> names;
    const auto add = [](dl_phdr_info* library, std::size_t, void* to) {
        if (library->dlpi_name != nullptr && library->dlpi_name[0] != 0)
            static_cast<std::vector<std::string>*>(to)->emplace_back(library->dlpi_name);
        return 0;
    };
    ::dl_iterate_phdr(add, &names);
    for (const std::string& name : names) (void)::dlopen(name.c_str(), RTLD_LAZY | RTLD_NOLOAD | RTLD_NODELETE);
}

struct Counts {
    std::int64_t turns = 0, acts = 0, windows = 0;
};

class RandomUse {
    int below(int limit) { return static_cast<int>(random_() % static_cast<unsigned>(limit)); }
    bool chance(int one_in) { return below(one_in) == 0; }
    template <class List>
    const auto& any(const List& list) {
        return list[static_cast<std::size_t>(below(static_cast<int>(list.size())))];
    }

  public:
    RandomUse(unsigned seed, test::Scratch scratch) : random_(seed), scratch_(std::move(scratch)) {}

    [[nodiscard]] bool ready() const { return hand_.ready(); }
    [[nodiscard]] const Counts& counts() const { return counts_; }

    /// Opens the window and uses it until `until`, or until it is closed on the way.
    void use_window(double until) {
        ++counts_.windows;
        // Closing with jobs and players at work is part of it.
        const double close_at = std::min(until, app::steady_seconds() + 5 + below(40));
        app::AppOptions options;
        options.library = counts_.windows > 1 && chance(8) ? std::filesystem::path() : scratch_.library;
        if (chance(3)) options.clip = any(scratch_.to_drop);
        options.remember_library = false;
        options.scale = chance(5) ? 1.6 : 1;
        options.make_demo = [this](const auto& folder, const auto& progress, const std::stop_token& stop) {
            progress(0.5);
            const auto made = share::demo_library(folder, scratch_.samples, stop);
            return made ? ok() : Status{made.error()};
        };
        options.before_turn = [this, close_at, until] { turn(close_at, until); };
        if (app::run(options) != 0) std::exit(2);
        hand_.let_go();
    }

  private:
    void turn(double close_at, double until) {
        if (++counts_.turns == 1) keep_libraries_loaded();
        glfwPostEmptyEvent();  // no rest
        GLFWwindow* window = glfwGetCurrentContext();
        const double now = app::steady_seconds();
        if (now >= close_at) glfwSetWindowShouldClose(window, GLFW_TRUE);
        // It may ask once more while changes are not on disk; something is wrong when it never ends.
        if (now >= until + 120) {
            fmt::print(stderr, "the window does not close\n");
            std::abort();
        }
        if (rest_ > 0) {
            --rest_;
            return;
        }
        ++counts_.acts;
        act(window);
        if (chance(12)) rest_ = below(20);  // jobs and players come to something
    }

    void act(GLFWwindow* window) {
        if (drag_ > 0) return drag_on();
        if (open_row_) {
            // The library page is up: somewhere on the rows of its clips.
            open_row_ = false;
            hand_.move(x_ = 420 + below(400), y_ = 60 + below(340));
            return click_here(1);
        }
        switch (below(25)) {
            case 0:
            case 1:
            case 2:
            case 3:
                return move();
            case 4:
            case 5:
            case 6:
            case 7:
                return click(1);
            case 8:
                return click(3);
            case 9:
                move();
                hand_.button(1, true);
                drag_ = 1 + below(12);
                return;
            case 10:
            case 11:
                return wheel();
            case 12:
                for (int i = below(8); i >= 0; --i) test::Hand::type(window, any(letters));
                return;
            case 13:
                return resize(window);
            case 14:
                return chance(4) ? drop(window) : move();
            case 15:
                return chance(3) ? write_from_outside() : press("space");
            case 16:
                // A page: library, clip, compared, keys, settings, and out of any text box.
                press("Escape");
                return press_keys_of(any(pages));
            case 17:
                press("Escape");
                open_row_ = true;
                return press_keys_of(app::Action::go_library);
            default:
                return press_keys_of(any(app::actions()).action);
        }
    }

    void move() {
        int width = 0, height = 0;
        glfwGetWindowSize(glfwGetCurrentContext(), &width, &height);
        // Often near the last place, where a menu may have opened.
        if (chance(3)) {
            x_ += below(121) - 60;
            y_ += below(121) - 60;
        } else {
            x_ = below(std::max(1, width));
            y_ = below(std::max(1, height));
        }
        hand_.move(x_, y_);
    }

    void click(unsigned number) {
        move();
        click_here(number);
    }

    void click_here(unsigned number) {
        for (int times = chance(6) ? 2 : 1; times > 0; --times) {
            hand_.button(number, true);
            hand_.button(number, false);
        }
    }

    void drag_on() {
        x_ += below(81) - 40;
        y_ += below(41) - 20;
        hand_.move(x_, y_);
        if (--drag_ == 0) hand_.button(1, false);
    }

    void wheel() {
        const bool shift = chance(3);
        if (shift) hand_.key("Shift_L", true);
        const auto way = static_cast<unsigned>(4 + below(2));
        for (int i = below(5); i >= 0; --i) {
            hand_.button(way, true);
            hand_.button(way, false);
        }
        if (shift) hand_.key("Shift_L", false);
    }

    void resize(GLFWwindow* window) {
        if (chance(3)) glfwSetWindowSize(window, 960 + below(700), 600 + below(500));
    }

    void drop(GLFWwindow* window) {
        std::vector<std::filesystem::path> files;
        for (int i = below(3); i >= 0; --i) files.push_back(any(scratch_.to_drop));
        test::Hand::drop(window, files);
    }

    void press(const char* key, bool ctrl = false, bool shift = false, bool alt = false) {
        const auto held = [&](bool down) {
            if (ctrl) hand_.key("Control_L", down);
            if (shift) hand_.key("Shift_L", down);
            if (alt) hand_.key("Alt_L", down);
        };
        held(true);
        hand_.key(key, true);
        hand_.key(key, false);
        held(false);
    }

    void press_keys_of(app::Action action) {
        const auto chords = app::Keymap().chords_of(action);
        if (chords.empty()) return;
        const app::Chord& chord = any(chords);
        std::string name = chord.key;
        for (const auto& [ours, theirs] :
             std::array<std::pair<const char*, const char*>, 12>{{{"Space", "space"},
                                                                  {"Enter", "Return"},
                                                                  {"Backspace", "BackSpace"},
                                                                  {"PageUp", "Prior"},
                                                                  {"PageDown", "Next"},
                                                                  {"Minus", "minus"},
                                                                  {"Plus", "KP_Add"},
                                                                  {",", "comma"},
                                                                  {".", "period"},
                                                                  {"[", "bracketleft"},
                                                                  {"]", "bracketright"},
                                                                  {"/", "slash"}}})
            if (name == ours) name = theirs;
        if (name.size() == 1 && name[0] >= 'A' && name[0] <= 'Z') name[0] = static_cast<char>(name[0] - 'A' + 'a');
        press(name.c_str(), chord.ctrl, chord.shift, chord.alt);
    }

    /// As the coach's copy of the program would.
    void write_from_outside() {
        auto store = journal::Store::open(scratch_.library);
        if (!store) return;
        const auto library = store->read();
        if (!library || library->clips.empty()) return;
        const auto& clip = any(library->clips);
        journal::Note note;
        note.session = clip.session;
        note.clip = clip.id;
        note.text = "From outside " + std::to_string(counts_.turns);
        note.moment = journal::ClipMoment{below(60000), std::nullopt, {1, 15360}};
        (void)store->add_note(note, {"Teodrik", journal::Role::coach}).has_value();
        if (!library->notes.empty() && chance(2))
            (void)store->remove_note(any(library->notes).id, {"Teodrik", journal::Role::coach}).has_value();
    }

    std::mt19937 random_;
    test::Scratch scratch_;
    test::Hand hand_;
    Counts counts_;
    int x_ = 100, y_ = 100, drag_ = 0, rest_ = 0;
    bool open_row_ = false;
};

double number_after(int argc, char** argv, const std::string& name, double otherwise) {
    for (int i = 1; i + 1 < argc; ++i)
        if (argv[i] == name) return std::atof(argv[i + 1]);
    return otherwise;
}

int trouble(const std::string& words) {
    fmt::print(stderr, "{}\n", words);
    return 1;
}

}  // namespace

int main(int argc, char** argv) {
    const double seconds = number_after(argc, argv, "--seconds", 60 * number_after(argc, argv, "--minutes", 1));
    const auto seed = static_cast<unsigned>(number_after(argc, argv, "--seed", 1));
    const test::TemporaryFolder home;
    for (const auto& [name, folder] : {std::pair{"HOME", ""}, {"XDG_CONFIG_HOME", "config"}, {"XDG_DATA_HOME", "data"}})
        ::setenv(name, (home.path() / folder).c_str(), 1);
    ::unsetenv("QUARTERTURN_LIBRARY");
    std::filesystem::current_path(home.path());
    std::mt19937 random(seed);
    auto scratch = test::make_scratch(home.path(), number_after(argc, argv, "--film-seconds", 12), random);
    if (!scratch) return trouble(scratch.error().detail);
    ::setenv("PATH", "", 1);  // no dialogs of the desktop
    const auto library = scratch->library;
    RandomUse use(seed, std::move(*scratch));
    if (!use.ready()) return trouble("There is no display.");
    fmt::print("seed {}\n", seed);
    for (const double until = app::steady_seconds() + seconds; app::steady_seconds() < until;) use.use_window(until);
    const auto store = journal::Store::open(library);
    if (!store) return trouble(store.error().detail);
    const auto left = store->read();
    if (!left) return trouble(left.error().detail);
    if (!left->unreadable.empty()) return trouble("A document in the library cannot be read.");
    const Counts& counts = use.counts();
    fmt::print("{:.0f} s, {} windows, {} turns, {} acts; the library has {} clips, {} notes\n", seconds, counts.windows,
               counts.turns, counts.acts, left->clips.size(), left->notes.size());
    return 0;
}
