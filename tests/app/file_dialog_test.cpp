#include "app/file_dialog.hpp"

#include <doctest.h>

#include <fstream>
#include <thread>

#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::app;
using quarterturn::test::TemporaryFolder;
namespace fs = std::filesystem;

namespace {

// A program that answers as a file dialog does: paths on standard output, 1 when cancelled.
fs::path program(const TemporaryFolder& folder, const std::string& name, const std::string& script) {
    const fs::path path = folder.path() / name;
    std::ofstream(path) << "#!/bin/sh\n" << script << "\n";
    fs::permissions(path, fs::perms::owner_all);
    return path;
}

FileDialog::Chosen answer(FileDialog& dialog) {
    while (true) {
        if (auto chosen = dialog.poll()) return *chosen;
        std::this_thread::yield();
    }
}

}  // namespace

TEST_CASE("a dialog program is found in the folders of PATH, or none is") {
    const TemporaryFolder folder;
    CHECK(find_dialog_program("").empty());
    CHECK(find_dialog_program((folder.path() / "nowhere").string()).empty());
    const fs::path second = program(folder, "kdialog", "");
    CHECK(find_dialog_program("/nowhere::" + folder.path().string()) == second);
    const fs::path first = program(folder, "zenity", "");
    CHECK(find_dialog_program(folder.path().string()) == first);
}

TEST_CASE("all chosen files come back, with spaces and letters of any script in their names") {
    const TemporaryFolder folder;
    FileDialog dialog(program(folder, "zenity", "printf '/films/a b.mp4\\n/films/\xD0\xB4.mp4\\n'"));
    REQUIRE(dialog.show(Choosing::films, "/films"));
    const auto chosen = answer(dialog);
    CHECK(chosen.choosing == Choosing::films);
    CHECK(chosen.paths == std::vector<fs::path>{"/films/a b.mp4", "/films/\xD0\xB4.mp4"});
    CHECK_FALSE(dialog.open());
}

TEST_CASE("a cancelled dialog chooses nothing") {
    const TemporaryFolder folder;
    FileDialog dialog(program(folder, "kdialog", "echo /half/typed; exit 1"));
    REQUIRE(dialog.show(Choosing::library, "/"));
    CHECK(answer(dialog).paths.empty());
}

TEST_CASE("an open dialog never holds the window up, and closes with it") {
    const TemporaryFolder folder;
    FileDialog dialog(program(folder, "zenity", "exec sleep 1000"));
    REQUIRE(dialog.show(Choosing::films, "/"));
    CHECK_FALSE(dialog.poll());
    CHECK(dialog.open());
    CHECK(dialog.show(Choosing::films, "/"));  // the one that is open stays
}

TEST_CASE("without a dialog program the person is told to type the path") {
    FileDialog none("");
    CHECK_FALSE(none.available());
    CHECK_FALSE(none.show(Choosing::films, "/"));
    FileDialog gone("/nowhere/zenity");
    CHECK_FALSE(gone.show(Choosing::films, "/"));
    CHECK_FALSE(gone.open());
}

TEST_CASE("the dialog begins in the folder it is given") {
    const auto zenity = dialog_call("/usr/bin/zenity", Choosing::library, "/films");
    CHECK(zenity.back() == "--filename=/films/");
    const auto kdialog = dialog_call("/usr/bin/kdialog", Choosing::films, "/films");
    CHECK(kdialog.back() == "/films");
}
