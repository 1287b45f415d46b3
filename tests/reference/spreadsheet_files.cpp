// SPDX-License-Identifier: Apache-2.0
// A spreadsheet program, where it is installed, opens our spreadsheets and finds in every cell what
// our CSV holds. Without it this is skipped.
#include <doctest/doctest.h>

#include "support/schedule_files.hpp"

namespace reference_spreadsheet_files {

using namespace housepower::test;

namespace {
bool has_soffice() { return std::system("command -v soffice >/dev/null 2>&1") == 0; }
}  // namespace

TEST_CASE("a spreadsheet program reads each cell as it was written" *
          doctest::skip(!has_soffice())) {
  const Folder folder;
  for (const std::string& design :
       {hostile_design(folder), std::string("examples/quondelay.toml")}) {
    CAPTURE(design);
    REQUIRE(run_program("schedule '" + design + "' -o " + folder.path + "/back.xlsx").exit <= 1);
    // comma, quote, UTF-8, from the first line, all in quotes, not as shown, every sheet
    const std::string line =
        "cd " + folder.path + " && soffice -env:UserInstallation=file://" + folder.path +
        "/profile --headless --convert-to "
        "'csv:Text - txt - csv (StarCalc):44,34,76,1,,0,true,false,false,false,false,-1' "
        "back.xlsx >log 2>&1";
    CAPTURE(line);
    REQUIRE(std::system(line.c_str()) == 0);
    for (const SheetName& sheet : sheets)
      same_cells(text_of(folder.path + "/back-" + sheet.title + ".csv"),
                 run_program("schedule '" + design + "' --format csv --sheet " + sheet.option).out,
                 sheet.title);
  }
}

}  // namespace reference_spreadsheet_files
