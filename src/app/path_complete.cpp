#include "app/path_complete.hpp"

#include <algorithm>
#include <cstdlib>
#include <filesystem>

namespace quarterturn::app {

std::vector<std::string> path_offers(const std::string& typed, std::size_t most) {
    std::string whole = typed;
    const char* home = std::getenv("HOME");
    if (home != nullptr && (whole == "~" || whole.starts_with("~/"))) whole = home + whole.substr(1);
    const std::size_t slash = whole.rfind('/');
    const std::filesystem::path folder = slash == std::string::npos ? "." : whole.substr(0, slash + 1);
    const std::string start = slash == std::string::npos ? whole : whole.substr(slash + 1);
    std::vector<std::string> offers;
    std::error_code error;
    auto entry = std::filesystem::directory_iterator(folder, error);
    // A folder with very many entries is not read to its end: typing must stay quick.
    for (int seen = 0; !error && entry != std::filesystem::directory_iterator() && seen < 5000;
         entry.increment(error), ++seen) {
        const std::string name = entry->path().filename().string();
        if (!name.starts_with(start) || (name.starts_with(".") && !start.starts_with("."))) continue;
        std::error_code ignored;
        const std::string before = slash == std::string::npos ? "" : whole.substr(0, slash + 1);
        offers.push_back(before + name + (entry->is_directory(ignored) ? "/" : ""));
    }
    std::sort(offers.begin(), offers.end());
    if (offers.size() > most) offers.resize(most);
    return offers;
}

std::string completed(const std::string& typed) {
    const auto offers = path_offers(typed, 5000);
    if (offers.empty()) return typed;
    std::string common = offers.front();
    for (const std::string& offer : offers) {
        const auto differ = std::mismatch(common.begin(), common.end(), offer.begin(), offer.end());
        common.erase(differ.first, common.end());
    }
    return common.size() >= typed.size() || typed.starts_with("~") ? common : typed;
}

}  // namespace quarterturn::app
