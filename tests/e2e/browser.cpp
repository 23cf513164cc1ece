#include "browser.hpp"

#include <cstdlib>
#include <fstream>
#include <iterator>
#include <regex>
#include <sstream>

namespace quarterturn::test {
namespace {

std::string contents(const std::filesystem::path& path) {
    std::ifstream in{path, std::ios::binary};
    return {std::istreambuf_iterator<char>{in}, {}};
}

/// One event of the log stands on one line. What the browser asks for by itself has no origin.
std::vector<std::string> addresses_in(const std::string& net_log) {
    static const std::regex address{"\"url\":\"([^\"]*)\""};
    std::vector<std::string> found;
    std::istringstream lines{net_log};
    for (std::string line; std::getline(lines, line);) {
        const bool of_page = line.find("\"initiator\":") != std::string::npos &&
                             line.find("\"initiator\":\"not an origin\"") == std::string::npos;
        std::smatch match;
        if (of_page && std::regex_search(line, match, address)) found.push_back(match[1]);
    }
    return found;
}

}  // namespace

bool has_browser() {
    return std::system("command -v chromium >/dev/null 2>&1") == 0;
}

PageVisit visit(const std::filesystem::path& page, const std::filesystem::path& folder) {
    const std::string dom = folder / "dom.html", log = folder / "log.txt", net = folder / "net.json";
    const std::string command =
        "chromium --headless --no-sandbox --disable-gpu --disable-background-networking --disable-component-update "
        "--disable-sync --no-first-run --disable-dev-shm-usage --allow-file-access-from-files "
        "--host-resolver-rules='MAP * ~NOTFOUND' --user-data-dir='" +
        (folder / "profile").string() + "' --log-net-log='" + net +
        "' --enable-logging=stderr --virtual-time-budget=3000 --timeout=60000 --dump-dom 'file://" + page.string() +
        "' >'" + dom + "' 2>'" + log + "'";
    PageVisit visit;
    if (std::system(command.c_str()) != 0) return visit;
    visit.dom = contents(dom);
    visit.log = contents(log);
    visit.addresses = addresses_in(contents(net));
    return visit;
}

}  // namespace quarterturn::test
