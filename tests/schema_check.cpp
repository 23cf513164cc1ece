#include "schema_check.hpp"

#include <fstream>
#include <nlohmann/json.hpp>
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wall"
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validation_results.hpp>
#include <valijson/validator.hpp>
#pragma GCC diagnostic pop

namespace quarterturn::test {

std::string schema_problems(const std::string& schema_name, const std::string& text) {
    std::ifstream file(std::string(QUARTERTURN_SOURCE_DIR) + "/docs/" + schema_name);
    const nlohmann::json schema_json = nlohmann::json::parse(file, nullptr, false);
    if (schema_json.is_discarded()) return "the schema is not JSON";
    const nlohmann::json document = nlohmann::json::parse(text, nullptr, false);
    if (document.is_discarded()) return "not JSON";

    valijson::Schema schema;
    valijson::SchemaParser parser(valijson::SchemaParser::kDraft7);
    const valijson::adapters::NlohmannJsonAdapter schema_adapter(schema_json);
    parser.populateSchema(schema_adapter, schema);
    valijson::Validator validator(valijson::Validator::kStrongTypes);
    valijson::ValidationResults results;
    const valijson::adapters::NlohmannJsonAdapter document_adapter(document);
    if (validator.validate(schema, document_adapter, &results)) return {};
    std::string problems;
    valijson::ValidationResults::Error error;
    while (results.popError(error)) {
        for (const std::string& part : error.context) problems += part;
        problems += ": " + error.description + "\n";
    }
    return problems;
}

}  // namespace quarterturn::test
