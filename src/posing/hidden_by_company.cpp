#include "posing/hidden_by_company.hpp"

#include <algorithm>

namespace quarterturn::posing {
namespace {

constexpr double look_s = 0.4;          // before and after, for the posture there
constexpr double near_posture = 0.035;  // body heights; the landmarks beside another body stray by 3 %

/// Pictures [first, last] in company.
struct Window {
    std::size_t first, last;
};

std::vector<Window> windows_of(const std::vector<bool>& company) {
    std::vector<Window> windows;
    for (std::size_t i = 0; i < company.size(); ++i) {
        if (!company[i]) continue;
        if (i > 0 && company[i - 1])
            windows.back().last = i;
        else
            windows.push_back({i, i});
    }
    return windows;
}

/// What is kept before or after a window.
struct Kept {
    Posture posture;
    std::optional<double> facing_deg;
};

Kept kept_in(const JointSeries& joints, const Stretch& stretch, std::size_t nearest) {
    return {posture_in(joints, stretch), joints.facing_deg.empty() ? std::nullopt : joints.facing_deg[nearest]};
}

bool near(const Posture& a, const Posture& b) {
    const auto distance = posture_distance(a, b);
    return distance && *distance <= near_posture;
}

class Bridge {
  public:
    Bridge(JointSeries& joints, const Window& window) : joints_(joints), window_(window) {}

    void build() {
        const double from = joints_.t_s[window_.first], to = joints_.t_s[window_.last];
        std::optional<Kept> before, after;
        if (window_.first > 0) before = kept_in(joints_, {from - look_s, from - 0.001}, window_.first - 1);
        if (window_.last + 1 < joints_.t_s.size())
            after = kept_in(joints_, {to + 0.001, to + look_s}, window_.last + 1);
        if (before && after && near(before->posture, after->posture)) {
            fill(window_.first, window_.last + 1, *before);
            return;
        }
        const std::size_t left = before ? leaves(before->posture) : window_.first;
        const std::size_t came = std::max(left, after ? comes_to(after->posture) : window_.last + 1);
        if (before) fill(window_.first, left, *before);
        if (after) fill(came, window_.last + 1, *after);
    }

  private:
    [[nodiscard]] bool two_near(const Posture& posture, std::size_t first) const {
        return near(posture, joints_.postures[first]) && near(posture, joints_.postures[first + 1]);
    }

    /// First picture that no longer belongs to the posture before.
    [[nodiscard]] std::size_t leaves(const Posture& posture) const {
        for (std::size_t i = window_.last; i > window_.first; --i)
            if (two_near(posture, i - 1)) return i + 1;
        return window_.first;
    }

    /// First picture that belongs to the posture after.
    [[nodiscard]] std::size_t comes_to(const Posture& posture) const {
        for (std::size_t i = window_.first; i < window_.last; ++i)
            if (two_near(posture, i)) return i;
        return window_.last + 1;
    }

    void fill(std::size_t from, std::size_t end, const Kept& kept) {
        for (std::size_t i = from; i < end; ++i) {
            joints_.postures[i] = kept.posture;
            if (!joints_.facing_deg.empty()) joints_.facing_deg[i] = kept.facing_deg;
        }
    }

    JointSeries& joints_;
    Window window_;
};

}  // namespace

void bridge_company(JointSeries& joints, const body::BodyCourse& course) {
    std::vector<bool> company;
    for (const body::CourseFrame& frame : course.frames)
        if (frame.present) company.push_back(frame.company);
    for (const Window& window : windows_of(company)) Bridge(joints, window).build();
}

}  // namespace quarterturn::posing
