#include "app/file_dialog.hpp"

#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <csignal>

extern char** environ;

namespace quarterturn::app {
namespace {

constexpr std::size_t longest_answer = 1U << 20U;

std::vector<std::filesystem::path> lines_of(const std::string& text) {
    std::vector<std::filesystem::path> paths;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        if (end > at) paths.emplace_back(text.substr(at, end - at));
        at = end + 1;
    }
    return paths;
}

// @return the process, 0 when it could not be started
pid_t start(const std::vector<std::string>& call, int output) {
    std::vector<char*> arguments;
    for (const std::string& word : call) arguments.push_back(const_cast<char*>(word.c_str()));
    arguments.push_back(nullptr);
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_adddup2(&actions, output, STDOUT_FILENO);
    posix_spawn_file_actions_addopen(&actions, STDERR_FILENO, "/dev/null", O_WRONLY, 0);
    pid_t child = 0;
    if (posix_spawn(&child, call.front().c_str(), &actions, nullptr, arguments.data(), environ) != 0) child = 0;
    posix_spawn_file_actions_destroy(&actions);
    return child;
}

}  // namespace

std::filesystem::path find_dialog_program(std::string_view path_variable) {
    for (const char* name : {"zenity", "kdialog"})
        for (std::size_t at = 0; at < path_variable.size();) {
            const std::size_t end = std::min(path_variable.find(':', at), path_variable.size());
            const auto program = std::filesystem::path(path_variable.substr(at, end - at)) / name;
            if (end > at && ::access(program.c_str(), X_OK) == 0) return program;
            at = end + 1;
        }
    return {};
}

std::vector<std::string> dialog_call(const std::filesystem::path& program, Choosing choosing,
                                     const std::filesystem::path& from) {
    const std::string title = choosing == Choosing::films ? "Choose films" : "Choose the folder of a library";
    std::vector<std::string> call{program.string(), "--title=" + title};
    if (program.filename() == "kdialog") {
        call[1] = "--title";
        call.push_back(title);
        if (choosing == Choosing::films) {
            for (const char* word : {"--multiple", "--separate-output", "--getopenfilename"}) call.emplace_back(word);
        } else {
            call.emplace_back("--getexistingdirectory");
        }
        call.push_back(from.string());
        return call;
    }
    call.emplace_back("--file-selection");
    if (choosing == Choosing::films) {
        call.emplace_back("--multiple");
        call.emplace_back("--separator=\n");
    } else {
        call.emplace_back("--directory");
    }
    call.push_back("--filename=" + (from / "").string());
    return call;
}

FileDialog::~FileDialog() {
    if (child_ > 0) {
        ::kill(child_, SIGKILL);
        ::waitpid(child_, nullptr, 0);
    }
    if (output_ >= 0) ::close(output_);
}

Status FileDialog::show(Choosing choosing, const std::filesystem::path& from) {
    if (open()) return ok();
    const Error missing{ErrorCode::missing_part, "The desktop's file dialog does not start. Type the path instead."};
    if (!available()) return missing;
    std::array<int, 2> ends{};
    if (::pipe2(ends.data(), O_CLOEXEC) != 0) return missing;
    ::fcntl(ends[0], F_SETFL, O_NONBLOCK);
    choosing_ = choosing;
    text_.clear();
    child_ = start(dialog_call(program_, choosing, from), ends[1]);
    ::close(ends[1]);
    output_ = ends[0];
    if (child_ > 0) return ok();
    ::close(std::exchange(output_, -1));
    return missing;
}

void FileDialog::read_more() {
    std::array<char, 4096> bytes{};
    while (true) {
        const ssize_t count = ::read(output_, bytes.data(), bytes.size());
        if (count < 0 && errno == EINTR) continue;
        if (count <= 0) return;
        if (text_.size() < longest_answer) text_.append(bytes.data(), static_cast<std::size_t>(count));
    }
}

std::optional<FileDialog::Chosen> FileDialog::poll() {
    if (!open()) return std::nullopt;
    read_more();
    int how = 0;
    const pid_t ended = ::waitpid(child_, &how, WNOHANG);
    if (ended == 0 || (ended < 0 && errno == EINTR)) return std::nullopt;
    read_more();  // what it wrote just before it ended
    ::close(std::exchange(output_, -1));
    child_ = 0;
    Chosen chosen{choosing_, {}};
    if (ended > 0 && WIFEXITED(how) && WEXITSTATUS(how) == 0) chosen.paths = lines_of(text_);
    return chosen;
}

}  // namespace quarterturn::app
