#include <doctest.h>

#include <random>

#include "app/cards.hpp"
#include "desk.hpp"

using namespace quarterturn;
using namespace quarterturn::app;

// Random keys, drags, typing and news from outside, seeded: whatever is pressed, the state stays one that can be shown.
TEST_CASE("a thousand random presses at a time leave a state that makes sense") {
    for (unsigned seed = 1; seed <= 20; ++seed) {
        CAPTURE(seed);
        std::mt19937 random(seed);
        ReviewState state = desk();
        const auto pick = [&](int below) { return static_cast<int>(random() % static_cast<unsigned>(below)); };
        for (int i = 0; i < 1000; ++i) {
            const auto pts = static_cast<std::int64_t>(pick(22000)) - 1000;
            const auto span = static_cast<std::size_t>(pick(8));
            Command command = Undo{};
            switch (pick(14)) {
                case 0:
                    command = DragBound{span, pick(2) == 0, pts};
                    break;
                case 1:
                    command = DropBound{};
                    break;
                case 2:
                    command = SplitAt{span, pts};
                    break;
                case 3:
                    command = AddHold{pts, std::nullopt};
                    break;
                case 4:
                    command = Seek{pts};
                    break;
                case 5:
                    command =
                        TypeNote{state.desk.note.value_or(""), std::string(static_cast<std::size_t>(pick(5)), 'x')};
                    break;
                case 6:
                    command = DrawPoint{{pick(100) / 100.0, pick(100) / 100.0}};
                    break;
                case 7:
                    command = DrawOn{{pick(100) / 100.0, pick(100) / 100.0}};
                    break;
                case 8:
                    command = DrawEnd{};
                    break;
                case 9:
                    command = ChooseSpan{span};
                    break;
                case 10:
                    command = RemoveHold{span};
                    break;
                default:
                    command =
                        Press{actions()[static_cast<std::size_t>(pick(static_cast<int>(actions().size())))].action};
            }
            (void)app::apply(state, command).has_value();
            if (i % 50 == 0)
                absorb(state, LibraryRead{state.library_folder, *state.library, state.next_number - 1, false});
            const OpenClip& clip = *state.clip;
            REQUIRE((!state.desk.span || *state.desk.span < clip.spans.size()));
            for (std::size_t k = 0; k < clip.spans.size(); ++k) {
                REQUIRE(clip.spans[k].range.end > clip.spans[k].range.start);
                REQUIRE((k == 0 || clip.spans[k].range.start >= clip.spans[k - 1].range.end));
            }
            REQUIRE(clip.index->rank_of(state.playing.pts).has_value());
            for (const Card& card : cards_of(state)) (void)checklist_of(state, card), (void)notes_of(state, card);
        }
    }
}
