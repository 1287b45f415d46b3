// SPDX-License-Identifier: Apache-2.0
// What is wrong with an input, where, and what to do: all of it, in the order of the text.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace housepower {

struct Place {
  std::string file;  // as the user named it
  int line = 0;      // 1-based; 0 = the whole file
  int column = 0;    // 1-based, in code points
  int width = 1;     // of what the caret underlines, in code points
  /// Typed on the command line: the option, "--length", stands for the file.
  [[nodiscard]] bool is_option() const { return file.starts_with("--"); }
  friend bool operator==(const Place&,
                         const Place&) = default;  // no <=>: em++ has none for strings
};

enum class Severity { error, warning };

/// What has to be read right for a problem to be one: its own value, the table that it stands in, the
/// names of the file, or all of the file. Of a file with other problems only some can be told.
enum class RestsOn { itself, table, names, whole };

struct Diagnostic {
  Severity severity = Severity::error;
  Place place;
  std::string key;      // the path: "run/fridge/length"
  std::string message;  // "wants a length such as \"2.4 m\", got a current"
  std::string hint;     // the next step, ideally the exact edit; may be empty
  RestsOn rests_on = RestsOn::itself;
};

/// A list that readers add to. Reading goes on after an error; calculating does not start.
struct Diagnostics {
  std::vector<Diagnostic> all;
  void error(Place at, std::string key, std::string message, std::string hint = {}) {
    all.push_back(
        {Severity::error, std::move(at), std::move(key), std::move(message), std::move(hint)});
  }
  void warning(Place at, std::string key, std::string message, std::string hint = {}) {
    all.push_back(
        {Severity::warning, std::move(at), std::move(key), std::move(message), std::move(hint)});
  }
  [[nodiscard]] bool any_error() const {
    for (const auto& d : all)
      if (d.severity == Severity::error) return true;
    return false;
  }
  /// By file in the order first met, then line and column; equal places keep their order.
  void sort_by_place();
};

/// No text that is larger is read: 64 MB.
inline constexpr std::size_t largest_text = std::size_t(64) << 20U;

/// The text of a file, or why there is none ("it is a folder"; empty where nothing is known).
class FileContent {
public:
  FileContent(std::optional<std::string> text) : text_(std::move(text)) {}
  FileContent(std::nullopt_t) {}
  [[nodiscard]] static FileContent none(std::string why) {
    FileContent content(std::nullopt);
    content.why_ = std::move(why);
    return content;
  }
  explicit operator bool() const { return text_.has_value(); }
  [[nodiscard]] std::string& operator*() { return *text_; }
  [[nodiscard]] const std::string& operator*() const { return *text_; }
  [[nodiscard]] const std::string& why() const { return why_; }

private:
  std::optional<std::string> text_;
  std::string why_;
};

/// Gives the text of a file, or why there is none. Disk in the command, memory in tests, fuzzing
/// and the browser: nothing below the command opens a file.
using FileReader = std::function<FileContent(std::string_view path)>;

/// The diagnostics as a person reads them: message, file:line:column, the source line with a caret
/// under the place (tabs and wide characters counted), the hint. The first `most`, and how many
/// more; last a summary line.
[[nodiscard]] std::string render(const Diagnostics&, const FileReader&, std::size_t most = 50);

/// The best match within Levenshtein distance 2 (and a third of the length); empty where none.
[[nodiscard]] std::string_view nearest(std::string_view word,
                                       const std::vector<std::string_view>& known);

/// "did you mean \"length\"?", or empty.
[[nodiscard]] std::string did_you_mean(std::string_view word,
                                       const std::vector<std::string_view>& known);

}  // namespace housepower
