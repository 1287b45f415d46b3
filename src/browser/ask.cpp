// SPDX-License-Identifier: Apache-2.0
#include "ask.hpp"

#include <exception>
#include <optional>
#include <sstream>
#include <vector>

#include "../cli/command.hpp"
#include "../cli/messages.hpp"
#include "housepower/page/json_read.hpp"
#include "texts.hpp"

namespace housepower::browser {
namespace {

using page::Json;

struct Request {
  std::vector<std::string> arguments{};
  Texts::ByName files{};
};

const std::string* text_in(const Json& json) { return std::get_if<std::string>(&json.value()); }

/// Nothing where it is of another shape.
std::optional<Request> request_in(std::string_view text) {
  const auto json = page::read_json(text);
  if (!json) return std::nullopt;
  Request request;
  const auto* arguments = std::get_if<Json::Array>(&(*json)["arguments"].value());
  if (!arguments) return std::nullopt;
  for (const Json& one : *arguments) {
    if (!text_in(one)) return std::nullopt;
    request.arguments.push_back(*text_in(one));
  }
  const auto* files = std::get_if<Json::Object>(&(*json)["files"].value());
  if (!files) return (*json)["files"] == Json() ? std::optional(request) : std::nullopt;
  for (const auto& [name, content] : *files) {
    if (!text_in(content)) return std::nullopt;
    request.files.emplace(name, *text_in(content));
  }
  return request;
}

struct Answer {
  int exit = cli::ok;
  std::string out{}, err{};
  Texts::ByName made{};
  Diagnostics warned{};
};

/// As JSON has a text; answers are long, and this is all that they need.
std::string quoted(std::string_view text) {
  static constexpr std::string_view digits = "0123456789abcdef";
  std::string out = "\"";
  out.reserve(text.size() + text.size() / 8);
  for (const char c : text)
    if (c == '\n') out += "\\n";
    else if (c == '"' || c == '\\') (out += '\\') += c;
    else if (static_cast<unsigned char>(c) >= 0x20) out += c;
    else ((out += "\\u00") += c < 0x10 ? '0' : '1') += digits[std::size_t(c & 0xF)];
  return out += '"';
}

std::string written(const Answer& answer) {
  std::string made;
  for (const auto& [name, text] : answer.made)
    made += (made.empty() ? "" : ", ") + quoted(name) + ": " + quoted(text);
  return "{\"exit\": " + std::to_string(answer.exit) + ", \"out\": " + quoted(answer.out) +
         ", \"err\": " + quoted(answer.err) + ", \"made\": {" + made +
         "}, \"warned\": " + report::diagnostics_json(answer.warned) + "}";
}

/// Parsed tables serve every question that needs the same ones.
std::shared_ptr<answers::Shelf> shelf() {
  static const auto kept = std::make_shared<answers::Shelf>();
  return kept;
}

int run(std::vector<std::string> arguments, cli::World& world) {
  arguments.insert(arguments.begin(), "housepower");
  std::vector<char*> typed;
  for (auto& one : arguments) typed.push_back(one.data());
  typed.push_back(nullptr);
  try {
    return cli::run(int(arguments.size()), typed.data(), world);
  } catch (const std::exception& mistake) {
    world.err << cli::about_mistake(mistake);
    return cli::our_mistake;
  }
}

Answer answer_of(const Request& request) {
  std::ostringstream out, err;
  std::istringstream nobody;
  Texts texts(request.files);
  const cli::Files files = texts.files();
  Answer answer;
  {
    cli::Messages messages(err);
    cli::World world{out,
                     messages.stream(),
                     messages.stream(),
                     nobody,
                     files.read,
                     cli::screen_of(std::nullopt, [](const char*) { return std::string(); }),
                     files,
                     {},
                     false,
                     shelf(),
                     {},
                     true};
    answer.exit = run(request.arguments, world);
    answer.warned = std::move(world.warned);
  }
  answer.out = std::move(out).str();
  answer.err = std::move(err).str();
  answer.made = texts.made();
  return answer;
}

}  // namespace

std::string answer_to(std::string_view text) {
  const auto request = request_in(text);
  if (request) return written(answer_of(*request));
  return written({cli::usage,
                  {},
                  "error: a request is {\"arguments\": [texts], \"files\": {name: text}}\n",
                  {},
                  {}});
}

}  // namespace housepower::browser
