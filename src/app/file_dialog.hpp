#pragma once
/// The desktop's own file dialog, where a program that shows it is installed (zenity, kdialog). It runs as a child
/// process, so that the window goes on meanwhile.
#include <sys/types.h>

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/choosing.hpp"
#include "base/result.hpp"

namespace quarterturn::app {

/// The dialog program in the folders of a PATH variable; empty where there is none.
[[nodiscard]] std::filesystem::path find_dialog_program(std::string_view path_variable);

/// How the program is called, its own path first.
/// @param from  folder to begin in
[[nodiscard]] std::vector<std::string> dialog_call(const std::filesystem::path& program, Choosing choosing,
                                                   const std::filesystem::path& from);

/// One dialog at a time.
class FileDialog {
  public:
    explicit FileDialog(std::filesystem::path program) : program_(std::move(program)) {}
    ~FileDialog();  ///< closes the dialog
    FileDialog(const FileDialog&) = delete;
    FileDialog& operator=(const FileDialog&) = delete;

    [[nodiscard]] bool available() const { return !program_.empty(); }
    [[nodiscard]] bool open() const { return child_ > 0; }

    /// Shows the dialog and returns at once; does nothing while one is open.
    /// @error missing_part: no program, or it could not be started
    Status show(Choosing choosing, const std::filesystem::path& from);

    struct Chosen {
        Choosing choosing = Choosing::films;
        std::vector<std::filesystem::path> paths;  ///< empty: the person changed their mind
    };
    /// Never waits. @return once, when the dialog was closed
    [[nodiscard]] std::optional<Chosen> poll();

  private:
    void read_more();

    std::filesystem::path program_;
    Choosing choosing_ = Choosing::films;
    pid_t child_ = 0;
    int output_ = -1;
    std::string text_;
};

}  // namespace quarterturn::app
