// SPDX-License-Identifier: Apache-2.0
// A page in HTML holds all that it was given, shows names as text, and asks for nothing elsewhere.
#include "housepower/page/html.hpp"

#include <doctest/doctest.h>

#include "support/xml.hpp"

namespace page_html {

using namespace housepower;
using namespace housepower::page;
using housepower::test::Element;

namespace {

/// Its main part, which our writer keeps well formed.
Element main_of(const std::string& page) {
  const auto from = page.find("<main"), to = page.find("</main>");
  REQUIRE(from != page.npos);
  REQUIRE(to != page.npos);
  auto root = test::XmlReader(std::string_view(page).substr(from, to + 7 - from)).document();
  REQUIRE(root.has_value());
  return *root;
}

std::string shown(const Element& e) {
  std::string text = e.text;
  for (const auto& child : e.children) text += shown(child);
  return text;
}

std::vector<const Element*> named(const Element& root, std::string_view name) {
  std::vector<const Element*> all, found;
  test::all_elements(root, all);
  for (const auto* e : all)
    if (e->name == name) found.push_back(e);
  return found;
}

Judgement judgement(std::string subject) {
  Judgement f;
  f.rule = "drop";
  f.subject = std::move(subject);
  f.verdict = Verdict::fail;
  f.message = "too much";
  return f;
}

const HtmlFrame plain{"Lanternhouse 4", "26 November 2026", "0123456789abcdef", false};

const char* const hostile[] = {"</td></main><script>alert(1)</script>",
                               "\"><img src=x onerror=alert(1)>",
                               "&lt;b&gt; &amp; 'quotes' \"doubled\"", "=HYPERLINK(\"x\")",
                               "]]> --> <!-- <style>*{display:none}</style>"};

}  // namespace

TEST_CASE("hostile names stand on the page as text, wherever a name may stand") {
  for (const std::string name : hostile) {
    CAPTURE(name);
    Page page{name, {}};
    page.blocks.emplace_back(Heading{name});
    page.blocks.emplace_back(Paragraph{name});
    page.blocks.emplace_back(VerdictLine{Verdict::fail, name});
    page.blocks.emplace_back(Facts{{{name, name, name}}});
    page.blocks.emplace_back(TableBlock{name, {name, name}, {false, true}, {{name, name}}});
    page.blocks.emplace_back(JudgementsBlock{{judgement(name)}, true});
    page.blocks.emplace_back(Figure{name, name, "", {name, {name}, {false}, {{name}}}, ""});
    page.blocks.emplace_back(Folded{name, {Paragraph{name}}});
    const std::string text = html(page, {name, name, "0123456789abcdef", false});
    const Element root = main_of(text);
    const std::string all = shown(root);
    std::size_t times = 0;
    for (std::size_t at = all.find(name); at != all.npos; at = all.find(name, at + 1)) ++times;
    CHECK(times == 19);
    for (const char* element : {"script", "img", "style", "b"})
      CHECK(named(root, element).size() == (std::string_view(element) == "b" ? 1u : 0u));
    CHECK(text.find("<script") == text.npos);
    CHECK(text.find("<img") == text.npos);
  }
}

TEST_CASE("the foot of a sheet of paper cannot end its rule") {
  const Page page{"van", {}};
  const std::string text = html(page, {"\"}}</style><script>\\", "", "00", false});
  CHECK(text.find("\\000022 \\00007d \\00007d \\00003c \\00002f style") != text.npos);
  CHECK(text.find("<script") == text.npos);
}

TEST_CASE("nothing is fetched and no foreign style is taken: the policy names what is ours") {
  Page page{"van", {}};
  page.blocks.emplace_back(Paragraph{"text"});
  const std::string text = html(page, plain);
  const auto at = text.find("style-src 'nonce-");
  REQUIRE(at != text.npos);
  const std::string nonce = text.substr(at + 17, text.find('\'', at + 17) - at - 17);
  CHECK(nonce.size() == 18);
  CHECK(text.find("<style nonce=\"" + nonce + "\">") != text.npos);
  CHECK(text.find("default-src 'none'") < at);
  for (const char* sign : {"http:", "https:", "src=", "url(", "@import", "style=\""})
    CHECK(text.find(sign) == text.npos);
  page.blocks.emplace_back(Paragraph{nonce});  // a text that knew it changes it
  CHECK(html(page, plain).find("'nonce-" + nonce + "'") == std::string::npos);
}

TEST_CASE("a name written from right to left keeps to itself, so that figures keep their place") {
  CHECK(html_text("run \"\u05D0\u05D1 \u05D2\" loses 8 %") ==
        "run &quot;<bdi>\u05D0\u05D1 \u05D2</bdi>&quot; loses 8 %");
  CHECK(html_text("\u0627\u0628 12 V") == "<bdi>\u0627\u0628</bdi> 12 V");
  CHECK(html_text("36 \u2126, \u00E9\u00FC, 9 \u00B0C") == "36 \u2126, \u00E9\u00FC, 9 \u00B0C");
  CHECK(html_text("\u05D0 1 \u05D1") == "<bdi>\u05D0</bdi> 1 <bdi>\u05D1</bdi>");
  CHECK(html_text("a\u202Eb") == "a\\u202Eb");  // a mark that turns the direction
}

TEST_CASE("a long narrow table takes two columns of paper, a short or a wide one does not") {
  const auto html_of = [](std::size_t rows, const std::string& cell) {
    TableBlock table{"Points", {"point", "read, V"}, {false, true}, {}};
    for (std::size_t i = 0; i < rows; ++i) table.rows.push_back({cell, "12.8"});
    return html({"van", {table}}, {"van", "", "00", false});
  };
  const auto in_two = [](const std::string& text) {
    return text.find("<div class=\"table long\"") != text.npos;
  };
  CHECK(in_two(html_of(13, "W07+")));
  CHECK_FALSE(in_two(html_of(12, "W07+")));
  CHECK_FALSE(in_two(html_of(13, std::string(50, 'x'))));  // 50 + 2 and 5 + 2 are beyond 58
  CHECK(in_two(html_of(13, std::string(49, 'x'))));
}

TEST_CASE("of very many rows some cells may fold, but not where hands write") {
  const auto html_of = [](std::size_t rows, const char* last) {
    TableBlock table{"what", {"point", "read"}, {false, false}, {}};
    table.rows.assign(rows, {std::string(70, 'x'), last});
    return html(Page{"van", {table}}, {"van", "", "00", false});
  };
  const auto has = [](const std::string& text, const char* words) {
    return text.find("<div class=\"table" + std::string(words) + "\"") != text.npos;
  };
  CHECK(has(html_of(25, "1.2"), " long"));
  CHECK(has(html_of(24, "1.2"), ""));
  const std::string sheet = html_of(25, "______");
  CHECK(has(sheet, " form"));
  CHECK(sheet.find("aria-label=\"to fill in\"") != sheet.npos);
}

TEST_CASE("what is for the screen alone stays folded and is hidden on paper") {
  Page page{"van", {Folded{"open", {Paragraph{"a"}}}, Folded{"screen", {Paragraph{"b"}}, true}}};
  const std::string text = html(page, {"van", "", "00", true});
  const Element root = main_of(text);
  const auto details = named(root, "details");
  REQUIRE(details.size() == 2);
  CHECK(details[0]->attributes.count("open") == 1);
  CHECK(details[1]->attributes.count("open") == 0);
  CHECK(details[1]->attributes.at("class") == "screen");
  const auto print = text.find("@media print");
  REQUIRE(print != text.npos);
  CHECK(text.find("details.screen{display:none}", print) != text.npos);
}

TEST_CASE("each working, folded or not, and each cell of a table is there") {
  auto f = judgement("run/fridge");
  f.source = "a book, page 1 (published)";
  f.working.emplace_back();
  f.working.back().formula.symbol = "U_drop";
  f.working.back().value = Number(1.65 * volt);
  Page page{"van",
            {JudgementsBlock{{f}, true},
             TableBlock{"Runs", {"run", "length, m"}, {false, true}, {{"a", "2.4"}, {"b", "3"}}}}};
  for (const bool unfolded : {false, true}) {
    const Element root = main_of(html(page, {"van", "", "00", unfolded}));
    const auto details = named(root, "details");
    REQUIRE(details.size() == 1);
    CHECK(details[0]->attributes.count("open") == (unfolded ? 1u : 0u));
    CHECK(shown(*details[0]).find("U_drop = 1.65 V") != std::string::npos);
    CHECK(named(root, "td").size() == 2);
    CHECK(named(root, "th").size() == 4);
  }
}

}  // namespace page_html
