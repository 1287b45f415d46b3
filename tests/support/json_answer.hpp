// SPDX-License-Identifier: Apache-2.0
// The JSON answer of the program, with the head that every one of them has.
#pragma once

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "command.hpp"

namespace housepower::test {

using Json = nlohmann::json;

inline Json json_of(const std::string& arguments, int exit = 0) {
  const Ran ran = run_program(arguments + " --format json");
  CAPTURE(arguments);
  CAPTURE(ran.err);
  CHECK(ran.exit == exit);
  const Json json = Json::parse(ran.out, nullptr, false);
  REQUIRE(!json.is_discarded());
  CHECK(json["schema"] == 1);
  CHECK(json["tool"]["name"] == "housepower");
  CHECK(json["safety"].get<std::string>().find("licensed electrician") != std::string::npos);
  return json;
}

}  // namespace housepower::test
