#include "journal/writer_id.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <array>
#include <cstdint>

#include "base/file.hpp"
#include "base/id.hpp"
#include "rules/json_text.hpp"

namespace quarterturn::journal {
namespace {

namespace fs = std::filesystem;

/// FNV-1a, 64 bits: not secret, only stable.
std::string digest(std::string_view text) {
    std::uint64_t hash = 0xCBF29CE484222325ULL;
    for (const char c : text) hash = (hash ^ static_cast<std::uint8_t>(c)) * 0x100000001B3ULL;
    return fmt::format("{:016x}", hash);
}

/// Differs for another machine and for another folder.
std::string place_of(const fs::path& library) {
    std::array<char, 256> host{};
    if (::gethostname(host.data(), host.size() - 1) != 0) host[0] = '\0';
    const auto machine = read_file("/etc/machine-id", 4096);
    std::error_code failure;
    const fs::path where = fs::canonical(library, failure);
    return digest(fmt::format("{}\n{}\n{}", machine ? *machine : std::string{}, host.data(), where.string()));
}

std::string draw() {
    const std::string uuid = new_id();
    return uuid.substr(19, 4) + uuid.substr(24);  // the last 64 bits, 62 of them random
}

}  // namespace

std::string writer_id(const fs::path& library) {
    const fs::path file = library / "cache" / "writer.json";
    const std::string place = place_of(library);
    if (const auto text = read_file(file, 4096)) {
        const auto known = rules::parse_json(*text);
        if (known && known->is_object() && known->value("place", rules::Json{}) == place) {
            const rules::Json id = known->value("id", rules::Json{});
            if (id.is_string() && id.get<std::string>().size() == 16) return id.get<std::string>();
        }
    }
    const std::string id = draw();
    // Where the cache cannot be written the id serves this run only.
    if (make_folder(file.parent_path()))
        (void)write_file(file, rules::json_text({{"id", id}, {"place", place}})).has_value();
    return id;
}

}  // namespace quarterturn::journal
