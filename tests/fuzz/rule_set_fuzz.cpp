// A person's own rule set may hold anything: reading must end in a rule set or a plain refusal, and every choice of
// what was read can be made.
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>

#include "rules/rule_set_json.hpp"
#include "rules/rule_sets.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace quarterturn;
    const std::string text(reinterpret_cast<const char*>(data), size);
    const auto rule_set = rules::read_rule_set(text);
    if (!rule_set) return rule_set.error().detail.empty() ? (std::abort(), 0) : 0;
    const auto again = rules::read_rule_set(rules::write_rule_set(*rule_set));
    if (!again || !(*again == *rule_set)) std::abort();
    (void)rule_set->called();
    for (const rules::Setting& setting : rule_set->settings) {
        for (const rules::Choice& choice : setting.choices) {
            if (!rules::with_choice(*rule_set, setting.id, choice.id)) std::abort();
        }
    }
    return 0;
}
