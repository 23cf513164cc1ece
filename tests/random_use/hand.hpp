#pragma once
/// A hand at mouse and keyboard: what it does reaches the window as any hand's would, through the X server's XTEST
/// extension. Dropped files and letters without a key on this keyboard are given to the window's own callbacks.
#include <filesystem>
#include <string>
#include <vector>

struct GLFWwindow;
struct _XDisplay;

namespace quarterturn::test {

class Hand {
  public:
    Hand();  ///< connects to $DISPLAY
    ~Hand();
    Hand(const Hand&) = delete;
    Hand& operator=(const Hand&) = delete;
    [[nodiscard]] bool ready() const { return display_ != nullptr; }

    void move(int x, int y);
    void button(unsigned number, bool down);  ///< 1 left, 2 middle, 3 right, 4 and 5 the wheel, 6 and 7 sideways
    /// @param name  an X keysym's name: "a", "space", "F9", "Control_L"
    void key(const char* name, bool down);
    /// Lets go of all keys and buttons.
    void let_go();

    // On the thread that has the window.
    static void type(GLFWwindow* window, unsigned int character);
    static void drop(GLFWwindow* window, const std::vector<std::filesystem::path>& paths);

  private:
    void flush();

    _XDisplay* display_;
    std::vector<unsigned> keys_, buttons_;
};

}  // namespace quarterturn::test
