// SPDX-License-Identifier: Apache-2.0
// The layout of a single-line diagram is measured, not its drawing: no label on another or on a
// symbol, everything on its sheet, every run there.
#include "housepower/diagram/diagram.hpp"
#include "housepower/page/page.hpp"
#include "housepower/version.hpp"

#include <doctest/doctest.h>
#include <set>

#include "checks/examples.hpp"
#include "support/drawing.hpp"

namespace diagram_diagram {

using namespace housepower;
using namespace housepower::diagram;
using namespace housepower::page;
using Role = DiagramLabel::Role;

namespace {

Diagram drawn(const design::Opened& opened, const checks::Checked& checked) {
  return diagram_of({opened.design, checked, "0123456789abcdef"}, worst_drop_case(checked.wiring));
}

void nothing_overlaps(const Diagram& d) {
  for (const auto& sheet : d.sheets) {
    std::vector<std::string> on_each_other;
    for (std::size_t i = 0; i < sheet.labels.size(); ++i) {
      for (std::size_t k = i + 1; k < sheet.labels.size(); ++k)
        if (overlap(sheet.labels[i].box, sheet.labels[k].box))
          on_each_other.push_back(sheet.labels[i].text + " | " + sheet.labels[k].text);
      for (const auto& symbol : sheet.symbols)
        if (overlap(sheet.labels[i].box, symbol.box))
          on_each_other.push_back(sheet.labels[i].text + " | symbol");
    }
    for (const auto& pair : on_each_other) MESSAGE(pair);
    CHECK(on_each_other.empty());
  }
}

void all_on_the_sheet(const Diagram& d) {
  const auto inside = [&](const Box& b) {
    return b.x >= 0 && b.y >= 0 && b.right() <= d.width && b.bottom() <= d.height;
  };
  for (const auto& sheet : d.sheets) {
    for (const auto& l : sheet.labels) {
      CAPTURE(l.text);
      CHECK(inside(l.box));
    }
    for (const auto& s : sheet.symbols) CHECK(inside(s.box));
    for (const auto& l : sheet.lines)
      for (const Point& p : l.points) CHECK(inside({p.x, p.y, 0, 0}));
  }
}

/// As often as it should be: once.
void every_run_once(const Diagram& d, const design::Design& design) {
  for (const auto& run : design->runs) {
    int times = 0;
    for (const auto& sheet : d.sheets)
      for (const auto& l : sheet.labels)
        times += l.role == Role::run_label && (l.whole.empty() ? l.text : l.whole) == run.label;
    CAPTURE(run.label);
    CHECK(times == 1);
  }
}

void is_sound(const Diagram& d, const design::Design& design) {
  nothing_overlaps(d);
  all_on_the_sheet(d);
  every_run_once(d, design);
  CHECK(d.points_of_text() >= 7.0);
  for (const auto& sheet : d.sheets) {  // the safety note is never cut
    std::string notes;
    for (const auto& l : sheet.labels)
      if (l.role == Role::note) notes += l.text + " ";
    CHECK(notes.find(std::string(safety_note())) != std::string::npos);
  }
  test::kept_rules(svg(d, SvgFor::file));
}

std::string appliance(const std::string& name, const std::string& rest = "") {
  return "[[appliance]]\nname = \"" + name + "\"\npower = \"6 W\"\nper_day = \"2 h\"\n" + rest;
}
std::string run(const std::string& name, const std::string& from, const std::string& to,
                const std::string& rest = "", const std::string& conductor = "2.5 mm2",
                const std::string& fuse = "iso-8820-3-c", const std::string& rating = "10 A") {
  return "[[run]]\nname = \"" + name + "\"\nfrom = \"" + from + "\"\nto = \"" + to +
         "\"\nlength = \"2 m\"\nconductor = \"" + conductor + "\"\n" + rest +
         "protection = [{ end = \"from\", type = \"" + fuse + "\", rating = \"" + rating +
         "\", distance = \"0.1 m\" }]\n";
}
std::string node(const std::string& name, const std::string& kind = "panel") {
  return "[[node]]\nname = \"" + name + "\"\nkind = \"" + kind + "\"\n";
}

const std::string head =
    "schema = 1\n[vehicle]\nname = \"Sketch\"\nsystem_voltage = \"12 V\"\n[rules]\n"
    "profile = \"iec-en-leisure\"\n[bank]\nchemistry = \"lfp\"\nquantity = 2\n"
    "capacity = \"100 Ah\"\nnominal_voltage = \"12.8 V\"\n"
    "resistance = { low = \"2 mΩ\", high = \"4 mΩ\" }\n";

design::Opened opened_text(const std::string& text) {
  return examples::opened("sketch.toml", {}, [&](std::string_view) { return std::optional(text); });
}

/// A bar, panels on it, circuits on each: 100 runs.
std::string hundred_runs() {
  std::string text = head +
                     "[wiring]\ninsulation = \"90 °C\"\ninsulation_material = \"xlpe\"\n"
                     "laid = \"free\"\nambient = \"30 °C\"\ncircuits_together = 1\n" +
                     node("bar", "bus bar") +
                     run("trunk", "bank", "bar", "", "70 mm2", "ul-248-class-t", "100 A");
  for (int p = 0; p < 9; ++p) {
    const std::string panel = "panel " + std::to_string(p);
    text += node(panel) + run("to " + panel, "bar", panel, "", "16 mm2", "ul-248-class-t", "30 A");
    for (int c = 0; c < 10; ++c) {
      const std::string name = "load " + std::to_string(p) + std::to_string(c);
      text += appliance(name) + run(name, panel, name);
    }
  }
  return text;
}

}  // namespace

TEST_CASE("every shipped design has a diagram on which nothing overlaps and no run is missing") {
  for (const auto& file : examples::all()) {
    CAPTURE(file);
    const auto opened = examples::opened(file);
    const Diagram d = drawn(opened, examples::checked(opened));
    is_sound(d, opened.design);
    CHECK(d.sheets.size() == 1);
  }
}

TEST_CASE("a tree of a hundred runs is drawn on two sheets of A3 with text of seven points") {
  const auto opened = opened_text(hundred_runs());
  REQUIRE(opened.design->runs.size() == 100);
  auto checked = examples::checked(opened);
  const Diagram flagged = drawn(opened, checked);  // half of it unstated: several flags at each run
  is_sound(flagged, opened.design);
  CHECK(flagged.paper == "A3");
  checked.findings.clear();  // as if all passed
  const Diagram d = drawn(opened, checked);
  is_sound(d, opened.design);
  CHECK(d.paper == "A3");
  CHECK(d.sheets.size() <= 2);
}

TEST_CASE("long chains and more circuits than a sheet has rows are drawn in pieces") {
  std::string chain = head, wide = head + node("bar", "bus bar") + run("trunk", "bank", "bar");
  std::string last = "bank";
  for (int i = 0; i < 30; ++i) {
    const std::string name = "stud " + std::to_string(i);
    chain += node(name, "stud") + run("to " + name, last, name);
    last = name;
  }
  chain += appliance("far") + run("far", last, "far");
  for (int i = 0; i < 80; ++i) {
    const std::string name = "load " + std::to_string(i);
    wide += appliance(name) + run(name, "bar", name);
  }
  for (const auto& text : {chain, wide}) {
    const auto opened = opened_text(text);
    const Diagram d = drawn(opened, examples::checked(opened));
    is_sound(d, opened.design);
    CHECK(d.width == doctest::Approx(1190.6));  // A3, never larger
  }
}

TEST_CASE("loops, parallel ways and returns that end elsewhere are drawn as links") {
  const auto opened = opened_text(
      head + node("a") + node("b") + node("minus bar", "bus bar") + appliance("Lamp") +
      appliance("Pump") + run("one", "bank", "a") + run("two", "bank", "b") + run("tie", "a", "b") +
      run("again", "bank", "a") + run("minus", "bank", "minus bar") +
      run("lamp", "a", "Lamp", "return = { to = \"minus bar\", length = \"3 m\" }\n") +
      run("pump", "b", "Pump"));
  const Diagram d = drawn(opened, examples::checked(opened));
  is_sound(d, opened.design);
  int links = 0, returns = 0;
  for (const auto& l : d.sheets[0].lines) {
    links += l.kind == DiagramLine::Kind::link;
    returns += l.kind == DiagramLine::Kind::return_;
    if (l.kind == DiagramLine::Kind::link || l.kind == DiagramLine::Kind::return_)
      for (std::size_t i = 1; i < l.points.size(); ++i)  // upright or level
        CHECK((l.points[i].x == doctest::Approx(l.points[i - 1].x) ||
               l.points[i].y == doctest::Approx(l.points[i - 1].y)));
  }
  CHECK(links >= 4);    // two links, each with at least two pieces
  CHECK(returns >= 2);  // one return
}

TEST_CASE("what fails is flagged with its rule and drawn heavier, by more than colour") {
  const auto opened = examples::opened(examples::faulty("drop"));
  const auto checked = examples::checked(opened);
  const Diagram d = drawn(opened, checked);
  bool flagged = false, heavy = false;
  for (const auto& l : d.sheets[0].labels)
    flagged = flagged || (l.role == Role::flag && l.verdict == checks::Verdict::fail &&
                          l.text.find("fail: drop") == 0);
  const Diagram sound = drawn(examples::opened(examples::faulty("base")),
                              examples::checked(examples::faulty("base")));
  for (const auto& s : d.sheets[0].symbols) heavy = heavy || s.verdict == checks::Verdict::fail;
  for (const auto& l : d.sheets[0].lines) heavy = heavy || l.verdict == checks::Verdict::fail;
  CHECK(flagged);
  CHECK(heavy);
  for (const auto& l : sound.sheets[0].lines) CHECK(l.verdict != checks::Verdict::fail);
}

namespace {

/// As often as a label of the drawing says it.
int times(const Diagram& d, const std::string& text) {
  int n = 0;
  for (const auto& sheet : d.sheets)
    for (const auto& l : sheet.labels) n += (l.whole.empty() ? l.text : l.whole) == text;
  return n;
}
int times(const Diagram& d, diagram::Symbol symbol) {
  int n = 0;
  for (const auto& sheet : d.sheets)
    for (const auto& s : sheet.symbols) n += s.symbol == symbol;
  return n;
}

const std::string one_lamp =
    head + node("panel") + run("trunk", "bank", "panel") + appliance("Lamp");

}  // namespace

TEST_CASE("devices stand by their plain names, and a breaker is what is said to be one") {
  const auto opened = opened_text(
      one_lamp +
      "[[device]]\nname = \"main breaker\"\n[[device]]\nname = \"handle\"\nkind = \"breaker\"\n" +
      run("one", "panel", "Lamp") + appliance("Pump") + appliance("Fan") +
      run("two", "panel", "Pump", "", "2.5 mm2", "main breaker") +
      run("three", "panel", "Fan", "", "2.5 mm2", "handle"));
  const Diagram d = drawn(opened, examples::checked(opened));
  is_sound(d, opened.design);
  CHECK(times(d, "blade 10 A") == 2);
  CHECK(times(d, "main breaker 10 A") == 1);
  CHECK(times(d, "handle 10 A") == 1);
  CHECK(times(d, diagram::Symbol::circuit_breaker) == 2);  // one, and the legend's
  CHECK(times(d, diagram::Symbol::fuse) == 4);             // three, and the legend's
}

TEST_CASE("the design current stands before that of the case") {
  const auto opened = opened_text(one_lamp + run("lamp", "panel", "Lamp"));
  const auto checked = examples::checked(opened);
  const auto* in = worst_drop_case(checked.wiring);
  REQUIRE(in != nullptr);
  const double most = checked.wiring.runs[1].current.outgoing.value();
  const double now = in->runs[1].current.value();
  CHECK(most > now);  // at the bank's least voltage
  CHECK(times(drawn(opened, checked),
              "2.5 mm², 2 m, " + print_plain(most) + " A (" + print_plain(now) + " →)") ==
        2);  // the trunk and the lamp's run are alike
}

TEST_CASE("a legend names the symbols that are used, and no other") {
  const auto opened = opened_text(one_lamp + run("lamp", "panel", "Lamp"));
  const Diagram d = drawn(opened, examples::checked(opened));
  for (const char* name : {"battery", "fuse", "appliance"}) CHECK(times(d, name) == 1);
  for (const char* name : {"shunt", "circuit breaker", "chassis", "goes on", "plug"})
    CHECK(times(d, name) == 0);
}

TEST_CASE("the bond of the negative is drawn where it is stated, and missed where it is not") {
  const std::string lamp = one_lamp + run("lamp", "panel", "Lamp");
  const auto bonded = opened_text(lamp + "[chassis]\nbonded_at = \"panel\"\nbond = \"16 mm2\"\n");
  const Diagram with = drawn(bonded, examples::checked(bonded));
  is_sound(with, bonded.design);
  CHECK(times(with, "bond of the negative, 16 mm²") == 1);
  CHECK(times(with, diagram::Symbol::chassis) == 2);  // it, and the legend's
  const auto plain = opened_text(lamp);
  const Diagram without = drawn(plain, examples::checked(plain));
  CHECK(times(without, diagram::Symbol::chassis) == 0);
  CHECK(times(without, "No bond of the negative to the chassis is stated.") == 1);
  const auto back = opened_text(one_lamp + run("lamp", "panel", "Lamp", "chassis_return = true\n"));
  CHECK(times(drawn(back, examples::checked(back)), "bond of the negative: not stated where") == 1);
}

TEST_CASE("a drawing has a block for its number and who checked it, to fill in where not stated") {
  const std::string lamp = one_lamp + run("lamp", "panel", "Lamp");
  const auto opened =
      opened_text(lamp + "[drawing]\nnumber = \"E-7\"\nrevision = \"C\"\ndate = \"2026-04-01\"\n"
                         "drawn_by = \"K. Tarn\"\nchecked_by = \"M. Oder\"\n");
  const Diagram d = drawn(opened, examples::checked(opened));
  is_sound(d, opened.design);
  const auto bare = opened_text(lamp);
  const Diagram empty = drawn(bare, examples::checked(bare));
  for (const char* caption : {"Drawing", "Rev.", "Date", "Drawn by", "Checked by"})
    for (const auto* one : {&d, &empty}) CHECK(times(*one, caption) == 1);
  for (const char* value : {"E-7", "C", "2026-04-01", "K. Tarn", "M. Oder"})
    CHECK(times(d, value) == 1);
}

TEST_CASE("a label tells whose it is as findings do, so that a page need not go by its words") {
  const auto opened = examples::opened(examples::folder + "marrowick.toml");
  const Diagram drawing = drawn(opened, examples::checked(opened));
  std::set<std::string> told;
  for (const auto& sheet : drawing.sheets)
    for (const auto& label : sheet.labels)
      if (!label.subject.empty()) {
        told.insert(label.subject);
        const bool names_one = label.role == Role::run_label || label.role == Role::name;
        CHECK(names_one);
      }
  for (const auto& run : opened.design->runs) CHECK(told.count("run/" + run.name) == 1);
  for (const auto& a : opened.design->appliances)
    if (!a.inverter && opened.design[a.post].kind == design::resolved::PostKind::appliance)
      CHECK(told.count("appliance/" + a.name) == 1);
  for (const auto& c : opened.design->controllers) CHECK(told.count("controller/" + c.name) == 1);
  CHECK(told.count("bank") == 1);
  CHECK(svg(drawing, SvgFor::file).find(" data-subject=\"bank\"") != std::string::npos);
}

TEST_CASE("names made to harm are shown as text, cut, and told in full") {
  const std::string markup = "<script>alert('x')<b> & co", turned = "\xE2\x80\xAE evil";
  const std::string hebrew = "\xD7\xA9\xD7\x9C\xD7\x95\xD7\x9D", longest(200, 'W');
  std::string text = head + node("a");
  text += run("one", "bank", "a");
  for (const auto& name : {markup, turned, hebrew, longest})
    text += appliance(name) + run(name, "a", name, "label = \"" + name.substr(0, 40) + "\"\n");
  const auto opened = opened_text(text);
  const Diagram d = drawn(opened, examples::checked(opened));
  is_sound(d, opened.design);
  const std::string out = svg(d, SvgFor::file);
  CHECK(out.find("<script") == std::string::npos);
  CHECK(out.find("\xE2\x80\xAE") == std::string::npos);
  CHECK(out.find("<title>" + longest + "</title>") != std::string::npos);
  CHECK(out.find("&lt;script&gt;") != std::string::npos);
  CHECK(out.find(hebrew) != std::string::npos);
}

TEST_CASE("a diagram names its design, version, case and the safety note, the same each time") {
  const auto opened = examples::opened(examples::folder + "pellibri.toml");
  const auto checked = examples::checked(opened);
  const auto* worst = worst_drop_case(checked.wiring);
  REQUIRE(worst != nullptr);
  Voltage most{};
  for (const auto& in : checked.wiring.cases)
    for (const auto& c : in.consumers)
      if (in.load_case.judged && in.solved()) most = std::max(most, c.path_drop);
  bool found = false;
  for (const auto& c : worst->consumers) found = found || c.path_drop == most;
  CHECK(found);
  const std::string out = svg(drawn(opened, checked), SvgFor::file);
  CHECK(out == svg(drawn(opened, checked), SvgFor::file));
  for (const std::string& part : {opened.design->name, "housepower " + std::string(version()),
                                  worst->load_case.name, std::string("licensed electrician")})
    CHECK(out.find(part) != std::string::npos);
  const Diagram without = diagram_of({opened.design, checked, "0"}, nullptr);
  CHECK(svg(without, SvgFor::file).find("No case has an operating point") != std::string::npos);
}

}  // namespace diagram_diagram
