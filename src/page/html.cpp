// SPDX-License-Identifier: Apache-2.0
// Every block of a page as HTML. All that a user may have named goes through `html_text`.
#include "housepower/page/html.hpp"

#include <algorithm>
#include <array>

#include "characters.hpp"
#include "housepower/page/svg.hpp"
#include "housepower/page/words.hpp"
#include "housepower/reading/digest.hpp"
#include "housepower/reading/text.hpp"
#include "housepower/version.hpp"
#include "html_style.hpp"

namespace housepower::page {
namespace {

/// What is being written: the text so far, and how its headings and names are numbered.
class Writer {
public:
  explicit Writer(bool unfolded) : unfolded_(unfolded) {}

  /// Tables that follow each other stand side by side where there is room, and so do figures.
  void write(const std::vector<Block>& blocks) {
    std::string_view group;
    for (const Block& block : blocks) {
      const std::string_view kind = group_of(block);
      if (kind != group && !group.empty()) out_ += "</div>\n";
      if (kind != group && !kind.empty()) out_ += "<div class=\"" + std::string(kind) + "\">\n";
      group = kind;
      std::visit([&](const auto& one) { (*this)(one); }, block);
    }
    if (!group.empty()) out_ += "</div>\n";
  }

  void operator()(const Heading& h) {
    end_section();
    const std::string id = "part-" + std::to_string(++sections_);
    out_ += std::string("<section") + (h.on_new_sheet ? " class=\"new-sheet\"" : "") +
            " aria-labelledby=\"" + id + "\">\n<h2 id=\"" + id + "\">" + html_text(h.text) +
            "</h2>\n";
    open_ = true;
  }
  void operator()(const Paragraph& p) { out_ += "<p>" + html_text(p.text) + "</p>\n"; }
  void operator()(const SmallPrint& p) {
    out_ += "<p class=\"small\">" + html_text(p.text) + "</p>\n";
  }
  void operator()(const VerdictLine& v) {
    const std::string word(word_of(v.verdict));
    out_ += "<p class=\"verdict " + word + "\"><b>" + word + "</b> <span>" + html_text(v.text) +
            "</span></p>\n";
  }
  void operator()(const Facts& facts) {
    out_ += "<dl class=\"facts\">\n";
    for (const auto& f : facts.facts) {
      out_ += "<div><dt>" + html_text(f.name) + "</dt><dd class=\"value\">" + html_text(f.value) +
              "</dd>";
      if (!f.note.empty()) out_ += "<dd class=\"quiet\">" + html_text(f.note) + "</dd>";
      out_ += "</div>\n";
    }
    out_ += "</dl>\n";
  }

  void operator()(const TableBlock& t) {
    if (t.rows.empty()) return;
    // Wider than a phone, it is moved within itself; so it can be reached by keys, and has a name.
    const std::string id = "table-" + std::to_string(++tables_);
    out_ += std::string("<div class=\"table") +
            (is_long(t)    ? " long"
             : is_short(t) ? " short"
                           : "") +
            (is_to_be_filled_in(t) ? " form" : "") + (t.heads.size() == 1 ? " lines" : "") +
            "\" role=\"group\" tabindex=\"0\" aria-labelledby=\"" + id +
            "\">\n<table>\n<caption id=\"" + id + "\">" + html_text(t.title) + "</caption>\n" +
            heads(t) + "<tbody>\n";
    for (const auto& row : t.rows) {
      out_ += "<tr>";
      for (std::size_t c = 0; c < row.size(); ++c) {
        const bool name =
            c == 0 && row.size() > 1 && !t.numbers[0] && row[0] != to_tick && !row[0].empty();
        out_ += (name ? "<th scope=\"row\"" : "<td") + number_class(t, c) + ">" + cell(row[c]) +
                (name ? "</th>" : "</td>");
      }
      out_ += "</tr>\n";
    }
    out_ += "</tbody>\n</table>\n</div>\n";
  }

  void operator()(const JudgementsBlock& block) {
    for (const Judgement& f : block.judgements) judgement(f, block);
  }
  void operator()(const JudgementLines& block) {
    for (const auto& line : block.lines) {
      const std::string word(word_of(line.verdict));
      out_ += "<p class=\"finding " + word + "\"><span class=\"word\">" + word + "</span> " +
              html_text(line.text) + "</p>\n";
    }
  }
  void operator()(const WorkingBlock& block) { working(block.working); }

  void operator()(const Figure& f) {
    out_ += "<figure class=\"figure" + (f.paper.empty() ? "" : " sheet " + f.paper) + "\">\n";
    out_ += "<figcaption>" + html_text(f.title) + "<span>" + html_text(f.says) +
            "</span></figcaption>\n";
    // A drawing that is moved within itself on a phone can be reached by keys.
    const std::string name = "drawing " + std::to_string(++drawings_);
    out_ += "<div class=\"drawing\" role=\"group\" tabindex=\"0\" aria-label=\"" + name + "\">\n" +
            f.drawing + "</div>\n";
    if (!f.numbers.rows.empty()) {
      fold("The numbers behind it");
      (*this)(f.numbers);
      out_ += "</details>\n";
    }
    out_ += "</figure>\n";
  }

  void operator()(const Folded& folded) {
    fold(folded.title, folded.on_screen_only);
    write(folded.blocks);
    out_ += "</details>\n";
  }

  std::string finished() {
    end_section();
    return std::move(out_);
  }

private:
  static constexpr std::string_view to_tick = "[ ]";

  /// A line to write on, of whatever length in text.
  static bool is_to_fill(std::string_view text) {
    return text.size() >= 4 && text.find_first_not_of('_') == text.npos;
  }
  /// Which takes the width of the sheet, for hands need the room.
  static bool is_to_be_filled_in(const TableBlock& t) {
    return std::any_of(t.rows.begin(), t.rows.end(), [](const auto& row) {
      return std::any_of(row.begin(), row.end(), [](const auto& one) { return is_to_fill(one); });
    });
  }

  /// Many short rows, which paper can hold in two columns; of very many, some cells may fold.
  static bool is_long(const TableBlock& t) {
    constexpr std::size_t few_rows = 12, many_rows = 24, very_many_rows = 40;
    constexpr std::size_t half_a_sheet = 58, folded = 84;
    if (t.rows.size() > very_many_rows && t.heads.size() <= 3) return true;
    return t.rows.size() > few_rows &&
           width_of(t) <=
               (t.rows.size() > many_rows && !is_to_be_filled_in(t) ? folded : half_a_sheet);
  }
  /// By its characters and the space after each column.
  static std::size_t width_of(const TableBlock& t) {
    constexpr std::size_t space = 2, entry = 7;
    std::size_t width = 0;
    for (std::size_t c = 0; c < t.heads.size(); ++c) {
      std::size_t widest = 0;
      for (const auto& row : t.rows)
        if (c < row.size())
          widest = std::max(widest, row[c] == to_tick    ? 2
                                    : is_to_fill(row[c]) ? entry
                                                         : signs_of(row[c]));
      width += std::max(widest, longest_word_of(t.heads[c])) + space;
    }
    return width;
  }
  static std::size_t signs_of(std::string_view text) {
    return std::size_t(housepower::detail::count_code_points(text));
  }
  static std::size_t longest_word_of(std::string_view head) {
    std::size_t longest = 0;
    for (std::size_t from = 0; from < head.size();) {
      const auto to = std::min(head.find(' ', from), head.size());
      longest = std::max(longest, signs_of(head.substr(from, to - from)));
      from = to + 1;
    }
    return longest;
  }
  /// Which paper keeps in one piece.
  static bool is_short(const TableBlock& t) { return t.rows.size() <= 9 || t.heads.size() == 1; }
  static std::string_view group_of(const Block& block) {
    if (const auto* t = std::get_if<TableBlock>(&block)) return t->rows.empty() ? "" : "tables";
    const auto* f = std::get_if<Figure>(&block);
    return f && f->paper.empty() ? "figures" : "";
  }
  static std::string number_class(const TableBlock& t, std::size_t column) {
    return t.numbers[column] ? " class=\"n\"" : "";
  }
  /// A column of sentences has none: the title tells what they are.
  static std::string heads(const TableBlock& t) {
    if (t.heads.size() == 1 && t.heads[0].empty()) return {};
    std::string row = "<thead><tr>";
    for (std::size_t c = 0; c < t.heads.size(); ++c)
      row += t.heads[c].empty()  // heads nothing
                 ? std::string("<td></td>")
                 : "<th scope=\"col\"" + number_class(t, c) + ">" + html_text(t.heads[c]) + "</th>";
    return row + "</tr></thead>\n";
  }
  static std::string cell(const std::string& text) {
    if (text == to_tick) return "<span class=\"tick\" role=\"img\" aria-label=\"to tick\"></span>";
    if (is_to_fill(text))
      return "<span class=\"entry\" role=\"img\" aria-label=\"to fill in\"></span>";
    return html_text(text);
  }
  void fold(const std::string& title, bool on_screen_only = false) {
    out_ += std::string("<details") +
            (on_screen_only ? " class=\"screen\""
             : unfolded_    ? " open=\"\""
                            : "") +
            "><summary>" + html_text(title) + "</summary>\n";
  }
  void end_section() {
    if (open_) out_ += "</section>\n";
    open_ = false;
  }

  void judgement(const Judgement& f, const JudgementsBlock& block) {
    const std::string word(word_of(f.verdict));
    const std::string level = open_ ? "h3" : "h2";  // below the heading of its part, or the page's
    out_ += "<article class=\"finding " + word + "\">\n<" + level + "><span class=\"word\">" +
            word + "</span> " + html_text(f.rule) + " <span class=\"subject\">" +
            html_text(f.subject) + "</span></" + level + ">\n<p>" + html_text(f.message);
    if (!f.in_case.empty()) out_ += " [" + html_text(f.in_case) + "]";
    out_ += "</p>\n";
    if (!f.cure.empty()) out_ += "<p class=\"cure\">Fix: " + html_text(f.cure) + "</p>\n";
    if (!f.alike.empty()) out_ += "<p class=\"cure\">Also: " + html_text(f.alike) + "</p>\n";
    if (block.with_source) {
      out_ += "<p class=\"source\">" + html_text(f.source);
      if (!f.place.empty()) out_ += "; " + html_text(f.place);
      out_ += "</p>\n";
    }
    if (block.with_working && !f.working.empty()) {
      fold("Working");
      working(f.working);
      out_ += "</details>\n";
    }
    out_ += "</article>\n";
  }

  void working(const Working& steps) {
    out_ += "<ol class=\"working\">\n";
    for (const Step& step : steps) {
      out_ += "<li class=\"step\">" + html_text(step_line(step));
      const std::string what = step_meaning(step);
      if (!what.empty()) out_ += "<span>" + html_text(what) + "</span>";
      out_ += "</li>\n";
    }
    out_ += "</ol>\n";
  }

  std::string out_;
  bool unfolded_, open_ = false;
  int sections_ = 0, tables_ = 0, drawings_ = 0;
};

/// Links to the parts, where there are enough to look for.
std::string contents(const Page& page) {
  std::string list;
  int part = 0;
  for (const Block& block : page.blocks)
    if (const auto* h = std::get_if<Heading>(&block))
      list += "<li><a href=\"#part-" + std::to_string(++part) + "\">" + html_text(h->text) +
              "</a></li>\n";
  if (part < 4) return {};
  return "<nav aria-label=\"Parts of this page\"><ul>\n" + list + "</ul></nav>\n";
}

}  // namespace

std::string html_text(std::string_view text) {
  return leftward_words_between(escaped(text), "<bdi>", "</bdi>");
}

std::string html(const Page& page, const HtmlFrame& frame) {
  const std::string made = "housepower " + std::string(version()) +
                           (frame.digest.empty() ? "" : ", inputs " + frame.digest) +
                           (frame.date.empty() ? "" : ", " + frame.date);
  Writer writer(frame.unfolded);
  writer.write(page.blocks);
  const std::string body = writer.finished();
  // Named after all that it may style, so that nothing within can know it beforehand.
  const std::string nonce = "hp" + digest_of(std::array{body});
  return "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
         "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src "
         "'nonce-" +
         nonce +
         "'; base-uri 'none'; form-action 'none'\">\n"
         "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
         "<title>" +
         escaped(page.title) + "</title>\n<style nonce=\"" + nonce + "\">" + svg_style() +
         std::string(page_style()) + paper_foot(frame.subject + ", " + made, safety_note()) +
         "</style>\n</head>\n<body>\n<a class=\"skip\" href=\"#main\">To the answer</a>\n"
         "<header>\n<h1>" +
         html_text(page.title) + "</h1>\n<p class=\"made\">" + html_text(made) +
         "</p>\n</header>\n" + contents(page) + "<main id=\"main\">\n" + body +
         "</main>\n<footer>\n<p>" + html_text(safety_note()) +
         "</p>\n</footer>\n</body>\n</html>\n";
}

}  // namespace housepower::page
