#pragma once
/// One line on a terminal that shows how far a long job is; nothing in a pipe.
#include <string>

namespace quarterturn::cli {

class ProgressLine {
  public:
    /// Shows only when standard error is a terminal.
    ProgressLine();
    ProgressLine(const ProgressLine&) = delete;
    ProgressLine& operator=(const ProgressLine&) = delete;
    ~ProgressLine();  ///< clears the line

    /// @param share  0..1 @param label  what is being done, e.g. the clip's name
    void show(double share, const std::string& label);

  private:
    bool terminal_;
    int last_percent_ = -1;
    std::string last_label_;
};

}  // namespace quarterturn::cli
