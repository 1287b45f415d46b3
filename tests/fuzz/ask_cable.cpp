// SPDX-License-Identifier: Apache-2.0
// `cable` asked with options that it has and values that they may have, at limits, or of any bytes: an
// answer or a word on what is wrong, in time, no number that is none.
#include <array>
#include <cstdint>

#include "../../src/browser/ask.hpp"
#include "holds.hpp"
#include "support/varied_design.hpp"

using namespace housepower;
using namespace housepower::fuzz;

namespace {

constexpr std::array<std::string_view, 24> options{"--current",
                                                   "--power",
                                                   "--length",
                                                   "--conductor",
                                                   "--conductor-table",
                                                   "--tinned",
                                                   "--voltage",
                                                   "--drop",
                                                   "--ampacity-table",
                                                   "--insulation",
                                                   "--ambient",
                                                   "--circuits-together",
                                                   "--laid",
                                                   "--sizes",
                                                   "--conductor-temperature",
                                                   "--source-resistance",
                                                   "--joints",
                                                   "--bank-resistance",
                                                   "--bank-voltage",
                                                   "--method",
                                                   "--terminals",
                                                   "--fuse",
                                                   "--working",
                                                   "--units"};
constexpr std::array<std::string_view, 48> values{"20 A",
                                                  "0 A",
                                                  "1e-9 A",
                                                  "10 kA",
                                                  "1e308 A",
                                                  "240 W",
                                                  "1 MW",
                                                  "4 m",
                                                  "10 km",
                                                  "1 mm",
                                                  "12 ft",
                                                  "0 m",
                                                  "6 mm2",
                                                  "1 mm2",
                                                  "120 mm2",
                                                  "8",
                                                  "2/0 awg",
                                                  "1000 mm2",
                                                  "sae",
                                                  "nec-8",
                                                  "12 V",
                                                  "24 V",
                                                  "48 V",
                                                  "1 mV",
                                                  "3 %",
                                                  "0 %",
                                                  "100 %",
                                                  "bs-7671-4f2-90",
                                                  "60 °C",
                                                  "90 °C",
                                                  "200 °C",
                                                  "-40 °C",
                                                  "1",
                                                  "9",
                                                  "1000000",
                                                  "free",
                                                  "in-insulation",
                                                  "conduit",
                                                  "awg",
                                                  "metric",
                                                  "5 mohm",
                                                  "1 nohm",
                                                  "1 Mohm",
                                                  "abyc-e11",
                                                  "en-1648",
                                                  "none",
                                                  "iso-8820-3-c 25 A",
                                                  "us"};
constexpr std::array<std::string_view, 3> forms{"json", "text", "html"};

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  test::Draws draws(data, size);
  const auto form = draws.one_of(forms);
  std::string words = R"("cable", "--format", )" + quoted_json(form);
  const bool sound = draws.below(4) != 0;
  if (sound) words += R"(, "--current", "20 A", "--length", "4 m")";
  for (int i = 0; i < 8 && draws.left(); ++i) {
    const auto option =
        sound ? options[3 + draws.below(options.size() - 3)] : draws.one_of(options);
    words += ", " + quoted_json(option);
    if (option == "--tinned" || option == "--working") continue;
    if (draws.below(16) != 0) {
      words += ", " + quoted_json(draws.one_of(values));
      continue;
    }
    std::string any = draws.rest();  // of letters that JSON takes as they are
    for (char& c : any)
      if (static_cast<unsigned char>(c) >= 0x80) c = '?';
    words += ", " + quoted_json(any);
  }
  const InTime in_time(soon);
  const auto answer =
      page::read_json(browser::answer_to(R"({"arguments": [)" + words + R"(], "files": {}})"));
  require(answer.has_value(), "the answer reads");
  const auto exit = std::get<std::int64_t>((*answer)["exit"].value());
  require(exit >= 0 && exit <= 3, "an exit code of a user's");
  const auto& out = std::get<std::string>((*answer)["out"].value());
  require(!out.empty() || !std::get<std::string>((*answer)["err"].value()).empty(), "it is said");
  if (exit <= 1) require(!holds_no_number(out), "each number is one");
  if (form == "json" && exit <= 1) require(page::read_json(out).has_value(), "JSON is sound");
  return 0;
}
