#pragma once
#include "share/report.hpp"

namespace quarterturn::cli {

/// Says where the files of a report lie, and what is missing in it.
void print_report_files(const share::ReportFiles& files);

}  // namespace quarterturn::cli
