#include "journal/clip.hpp"

namespace quarterturn::journal {

AthleteShown turned(AthleteShown shown, int from_deg, int to_deg) {
    const int quarters = (((to_deg - from_deg) / 90) % 4 + 4) % 4;
    for (int i = 0; i < quarters; ++i) {
        const double x = shown.x;
        shown.x = shown.y;
        shown.y = 1 - x;
    }
    return shown;
}

}  // namespace quarterturn::journal
