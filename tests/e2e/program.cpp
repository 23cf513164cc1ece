#include "e2e/program.hpp"

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <fstream>
#include <sstream>

namespace quarterturn::test {
namespace {

namespace fs = std::filesystem;

std::string read_all(const fs::path& path) {
    std::ifstream file{path, std::ios::binary};
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

void redirect(const fs::path& path, int descriptor) {
    const int file = ::open(path.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
    ::dup2(file, descriptor);
}

[[noreturn]] void become(const std::vector<std::string>& command, const fs::path& folder, const fs::path& out,
                         const fs::path& err) {
    redirect(out, STDOUT_FILENO);
    redirect(err, STDERR_FILENO);
    ::setenv("HOME", (folder / "home").c_str(), 1);
    for (const char* variable : {"XDG_DATA_HOME", "XDG_CONFIG_HOME", "QUARTERTURN_LIBRARY"}) ::unsetenv(variable);
    std::vector<char*> arguments;
    for (const auto& word : command) arguments.push_back(const_cast<char*>(word.c_str()));
    arguments.push_back(nullptr);
    if (::chdir(folder.c_str()) == 0) ::execvp(arguments[0], arguments.data());
    ::_exit(127);
}

}  // namespace

Ran run_program(const std::vector<std::string>& command, const fs::path& folder) {
    fs::create_directories(folder / "home");
    const fs::path out = folder / "home" / "stdout";
    const fs::path err = folder / "home" / "stderr";
    const pid_t child = ::fork();
    if (child == 0) become(command, folder, out, err);
    int status = 0;
    ::waitpid(child, &status, 0);
    const int exit = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
    return {exit, read_all(out), read_all(err)};
}

Ran run_quarterturn(const std::vector<std::string>& arguments, const fs::path& folder) {
    std::vector<std::string> command{QUARTERTURN_BINARY_DIR "/bin/quarterturn"};
    command.insert(command.end(), arguments.begin(), arguments.end());
    return run_program(command, folder);
}

fs::path make_film(const fs::path& folder, const std::string& name, const std::string& more_options) {
    const std::string command = "ffmpeg -v error -y -f lavfi -i testsrc2=size=120x160:rate=30:duration=2 " +
                                more_options + " -pix_fmt yuv420p " + name;
    const Ran made = run_program({"sh", "-c", command}, folder);
    return made.exit == 0 ? folder / name : fs::path{};
}

}  // namespace quarterturn::test
