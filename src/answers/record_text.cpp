// SPDX-License-Identifier: Apache-2.0
// The chain of entries: to text and back.
#include "housepower/answers/record.hpp"
#include "housepower/reading/sha256.hpp"
#include "housepower/reading/shown.hpp"

namespace housepower::answers {
namespace {

/// One line, whatever was typed: what acts unseen is escaped, line ends too.
std::string with_line_ends_escaped(const std::string& text) { return with_escapes(text); }

/// All of an entry that its digest is of.
std::string sealed_part(std::size_t number, const RecordEntry& e) {
  std::string text = "entry " + std::to_string(number) + "\nat: " + e.at + "\nby: " + e.by +
                     "\nwhat: " + e.what + "\n";
  for (const auto& line : e.lines) text += "| " + line + "\n";
  return text + "before: " + e.before + "\n";
}

class RecordReader {
public:
  RecordReader(std::string_view text, std::string_view file) : rest_(text), file_(file) {}

  Record read(const std::optional<std::string>& seal) {
    Record record;
    std::string before(nothing_before);
    while (next()) {
      if (line_.empty()) continue;
      RecordEntry e;
      e.place = here();
      const std::size_t number = record.entries.size() + 1;
      if (line_ != "entry " + std::to_string(number)) {
        broken(record, "expected \"entry " + std::to_string(number) + "\"");
        return record;
      }
      if (!key("at: ", e.at) || !key("by: ", e.by) || !key("what: ", e.what) || !body(e) ||
          !key("digest: ", e.digest)) {
        broken(record, "the entry is incomplete");
        return record;
      }
      if (e.before != before) {
        broken(record, "it does not follow the entry before it: one was taken out or changed");
        return record;
      }
      if (sha256_of(sealed_part(number, e)) != e.digest) {
        broken(record, "its digest does not match: the entry was changed");
        return record;
      }
      before = e.digest;
      record.entries.push_back(std::move(e));
    }
    if (seal && record.seal() != *seal)
      broken(
          record,
          "the seal does not match: entries are missing at the end, or it is a different record");
    else if (record.entries.empty()) broken(record, "there is no entry");
    return record;
  }

private:
  bool next() {
    if (rest_.empty()) return false;
    const auto end = rest_.find('\n');
    line_ = std::string(rest_.substr(0, end));
    rest_ = end == rest_.npos ? std::string_view() : rest_.substr(end + 1);
    if (!line_.empty() && line_.back() == '\r') line_.pop_back();
    ++number_;
    return true;
  }
  bool key(std::string_view name, std::string& value) {
    if (!next() || !line_.starts_with(name)) return false;
    value = line_.substr(name.size());
    return true;
  }
  bool body(RecordEntry& e) {
    while (next()) {
      if (line_.starts_with("| ")) {
        e.lines.push_back(line_.substr(2));
        continue;
      }
      constexpr std::string_view before = "before: ";
      if (!line_.starts_with(before)) return false;
      e.before = line_.substr(before.size());
      return true;
    }
    return false;
  }
  [[nodiscard]] Place here() const { return {file_, number_, 1, 1}; }
  void broken(Record& record, std::string why) const {
    record.broken = Diagnostic{Severity::error, here(), "record", std::move(why), {}};
  }

  std::string_view rest_;
  std::string file_, line_{};
  int number_ = 0;
};

}  // namespace

std::string entry_text(std::size_t number, RecordEntry e, std::string_view before) {
  for (auto* text : {&e.at, &e.by, &e.what}) *text = with_line_ends_escaped(*text);
  for (auto& line : e.lines) line = with_line_ends_escaped(line);
  e.before = std::string(before);
  const std::string sealed = sealed_part(number, e);
  return sealed + "digest: " + sha256_of(sealed) + "\n\n";
}

Record read_record(std::string_view text, std::string_view file,
                   const std::optional<std::string>& seal) {
  return RecordReader(text, file).read(seal);
}

}  // namespace housepower::answers
