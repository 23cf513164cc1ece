# Makes src/rules/data/*.json part of quarterturn_rules as a generated source, so that the bare program has them.
file(GLOB rule_files CONFIGURE_DEPENDS ${CMAKE_CURRENT_LIST_DIR}/data/*.json)
set(embedded_source ${CMAKE_CURRENT_BINARY_DIR}/rules_embedded.cpp)
add_custom_command(
  OUTPUT ${embedded_source}
  COMMAND ${CMAKE_COMMAND} "-DFILES=${rule_files}" -DOUTPUT=${embedded_source}
          -P ${CMAKE_CURRENT_LIST_DIR}/embed_files.cmake
  DEPENDS ${rule_files} ${CMAKE_CURRENT_LIST_DIR}/embed_files.cmake
  COMMENT "Embedding the rule sets"
  VERBATIM)
target_sources(quarterturn_rules PRIVATE ${embedded_source})
