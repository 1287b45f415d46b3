// SPDX-License-Identifier: Apache-2.0
// What is asked of one design, as text: by options of a command, by a page, by a caller.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace housepower::answers {

inline constexpr int most_people = 20;

/// A key of the design for which a command has an option of its own: errors name that.
struct AskedKey {
  std::string option, path, text;  // "--month", "place/month", "july"
};

/// The design file by its name for a FileReader, and what is to be changed in it.
struct Question {
  std::string file;
  // Another place; at most one says where: a town of the climate table, a file of hourly weather, or
  // "-42.1,146.6,730 m".
  std::optional<std::string> town{}, weather{}, at{};
  std::vector<std::string> set{};              // overrides such as "run/fridge/length=5 m"
  std::optional<int> people{};                 // 1 to most_people; nothing: as the design says
  std::vector<std::string> add{};              // appliances: "Air fryer: 1400 W, 0.3 h, inverter"
  std::vector<std::string> with{}, without{};  // appliances that are used every day, or left off
  bool needs_runs = true;                      // a design without any is refused
  std::vector<AskedKey> keys{};
};

}  // namespace housepower::answers
