# Writes OUTPUT, a C++ source that holds FILES as text (see embedded.hpp).
set(entries "")
foreach(path IN LISTS FILES)
  get_filename_component(name ${path} NAME_WE)
  file(READ ${path} text)
  string(APPEND entries "    {\"${name}\", R\"embedded(${text})embedded\"},\n")
endforeach()
file(WRITE ${OUTPUT} "#include \"rules/embedded.hpp\"

#include <array>

namespace quarterturn::rules {

std::span<const EmbeddedFile> embedded_files() {
    static const auto files = std::to_array<EmbeddedFile>({
${entries}    });
    return files;
}

}  // namespace quarterturn::rules
")
