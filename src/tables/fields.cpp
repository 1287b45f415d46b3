// SPDX-License-Identifier: Apache-2.0
// The keys of the files under tables/. What is wide stands in text blocks (block.cpp).
#include "housepower/reading/fields.hpp"
#include "file.hpp"

namespace housepower {
namespace detail {

/// Views into the tree, which the tables keep.
template <> struct Reads<std::string_view> {
  static constexpr Shape shape{.form = Shape::Form::text};
  static bool read(const Node& n, std::string_view& to, const Field& f, Reading& r) {
    std::string checked;
    if (!read_text(n, f, r, checked)) return false;
    to = std::get<std::string>(n.value);
    return true;
  }
  static Node node(std::string_view from) { return {std::string(from), {}}; }
};
/// A table of free keys, taken apart later.
template <> struct Reads<const Node*> {
  static constexpr Shape shape{.form = Shape::Form::text};
  static bool read(const Node& n, const Node*& to, const Field&, Reading&) {
    to = &n;
    return true;
  }
  static Node node(const Node* from) { return from ? *from : Node{}; }
};

}  // namespace detail

using namespace tables;

template <>
inline constexpr auto words<SourceKind> =
    std::to_array<std::string_view>({"published", "supplier", "common practice", "from memory"});
template <>
inline constexpr auto words<StrandClass> = std::to_array<std::string_view>({"class 2", "class 5",
                                                                            "class 6"});
template <>
inline constexpr auto words<FactorUse> =
    std::to_array<std::string_view>({"ambient", "grouping", "square-root", "withstand", "lie"});
template <>
inline constexpr auto
    words<GroupingFactors::Counts> = std::to_array<std::string_view>({"circuits", "conductors"});
template <>
inline constexpr auto words<NearSource::Condition> = std::to_array<std::string_view>(
    {"always", "outside enclosure", "enclosed", "sheathed from battery", "sheathed"});
template <>
inline constexpr auto words<RuleProfile::DropJudged> = std::to_array<std::string_view>({"path",
                                                                                        "segment"});
template <>
inline constexpr auto words<RuleProfile::LithiumPlace::Says> =
    std::to_array<std::string_view>({"fail inside", "caution inside", "silent"});

// clang-format off
template <> inline constexpr auto fields<Source> = std::array{
    field<&Source::kind>("kind", "How far to trust it: published, supplier, common practice, from memory.", "published"),
    field<&Source::title>("title", "What it is.", "EN 1648-2:2018"),
    field<&Source::where>("where", "Place in it, and where it was read.", "clause 4.3").optional(),
};
template <> inline constexpr auto fields<MarkText> = std::array{
    field<&MarkText::kind>("kind", "As the passport's.", "from memory"),
    field<&MarkText::source>("source", "As the passport's.", "a maker's data sheet").optional(),
    field<&MarkText::where>("where", "As the passport's.", "not read").optional(),
    field<&MarkText::note>("note", "What else to know of the value.", "rounded").optional(),
};
template <> inline constexpr auto fields<ResistivityText> = std::array{
    field<&ResistivityText::plain>("plain", "Ω·mm²/m at 20 °C.", "0.0187").more_than(Ratio(0.0)),
    field<&ResistivityText::tinned>("tinned", "Ω·mm²/m at 20 °C.", "0.0193").more_than(Ratio(0.0)),
    field<&ResistivityText::kind>("kind", "As the passport's.", "from memory"),
    field<&ResistivityText::source>("source", "As the passport's.", "copper of 0.017241 Ω·mm²/m"),
    field<&ResistivityText::where>("where", "As the passport's.", "computed").optional(),
};
template <> inline constexpr auto fields<FileText> = std::array{
    field<&FileText::name>("name", "What a design or a command calls it.", "bs-7671-4f2-90"),
    field<&FileText::title>("title", "In words.", "Flexible cable of 90 °C"),
    field<&FileText::kind>("kind", "How far to trust it: published, supplier, common practice, from memory.", "published"),
    field<&FileText::source>("source", "Where the numbers come from.", "BS 7671 table 4F2"),
    field<&FileText::edition>("edition", "Its edition.", "17th edition").optional(),
    field<&FileText::where>("where", "Place in it, and where it was read.", "a cable maker's booklet").optional(),
    field<&FileText::conditions>("conditions", "For what the numbers hold.", "d.c., 30 °C").optional(),
    field<&FileText::note>("note", "What else to know.", "why it is so").optional(),
    field<&FileText::suffix>("suffix", "Conductors: what follows the size in a name.", "mm2").optional(),
    field<&FileText::strands>("strands", "Conductors: their class by IEC 60228.", "class 5"),
    field<&FileText::plain>("plain", "Fuses: as the trade says it, before the rating.", "blade").optional(),
    field<&FileText::at>("at", "Conductors: temperature of the resistances, else 20 °C.", "75 °C"),
    field<&FileText::resistance>("resistance", "Conductors: resistivity where the rows hold areas only."),
    field<&FileText::sizes>("sizes", "Ampacities: mm2, awg or a series of conductors.", "mm2").optional(),
    field<&FileText::base_ambient>("base_ambient", "Ampacities: ambient of the table; left out where it was not stated.", "30 °C"),
    field<&FileText::lies>("lies", "Ampacities: how the cables of the table are laid; left out, free.", "free").optional(),
    field<&FileText::profile>("profile", "Ampacities: the rule profile to which it belongs; left out, iec-en-leisure.", "iec-en-leisure").optional(),
    field<&FileText::ambient>("ambient", "Ampacities: table of ambient factors.", "square-root").optional(),
    field<&FileText::grouping>("grouping", "Ampacities: table and column of grouping factors.", "nec-310-15-c/factor").optional(),
    field<&FileText::use>("use", "Factors: what they are for.", "ambient"),
    field<&FileText::counts>("counts", "Grouping factors: what they count.", "circuits"),
    field<&FileText::marks>("marks", "Other sources of single values, by letter.").optional(),
    field<&FileText::says>("says", "What a column means, by its key.").optional(),
};
template <> inline constexpr auto fields<DropClass> = std::array{
    field<&DropClass::name>("name", "The profile's own word.", "other"),
    field<&DropClass::volts>("volts", "Most that may be lost.", "0.8 V").more_than(0.0 * volt),
    field<&DropClass::share>("share", "Or that share of the nominal voltage.", "5 %").more_than(Ratio(0.0)).at_most(Ratio(1.0)),
    exactly_one({"volts", "share"}),
    field<&DropClass::fails>("fails", "A limit that was really read; else a habit.", "true").optional(),
    field<&DropClass::source>("source", "Where it comes from."),
};
template <> inline constexpr auto fields<NearSource> = std::array{
    field<&NearSource::longest>("longest", "Along the conductor.", "200 mm").more_than(0.0 * metre),
    field<&NearSource::strict>("strict", "Less than that, not equal to it.", "true").optional(),
    field<&NearSource::condition>("condition", "What must hold besides.", "enclosed").optional(),
    field<&NearSource::source>("source", "Where it comes from."),
};
template <> inline constexpr auto fields<RuleProfile::LithiumPlace> = std::array{
    field<&RuleProfile::LithiumPlace::says>("says", "What a lithium battery inside the living space gives.", "fail inside"),
    field<&RuleProfile::LithiumPlace::passes_with>("passes_with", "Inspection item that, ticked, lets it sit inside.", "battery area vapour-tight to the interior").optional(),
    field<&RuleProfile::LithiumPlace::source>("source", "Where it comes from."),
    field<&RuleProfile::LithiumPlace::note>("note", "What else to know.", "disputed").optional(),
};
template <> inline constexpr auto fields<RuleProfile::Inspection> = std::array{
    field<&RuleProfile::Inspection::item>("item", "What a person looks at.", "labels"),
    field<&RuleProfile::Inspection::source>("source", "Where it comes from."),
};
template <> inline constexpr auto fields<RuleProfile::DeviceLimit> = std::array{
    field<&RuleProfile::DeviceLimit::conductor>("conductor", "As the standard names it.", "14 AWG"),
    field<&RuleProfile::DeviceLimit::up_to>("up_to", "Its area; a size between two counts as the thinner one.", "2.08 mm2").more_than(0.0 * square_metre),
    field<&RuleProfile::DeviceLimit::at_most>("at_most", "Largest rating of its device.", "15 A").more_than(0.0 * ampere),
    field<&RuleProfile::DeviceLimit::fails>("fails", "A limit that was really read; else a caution.", "true").optional(),
    field<&RuleProfile::DeviceLimit::source>("source", "Where it comes from."),
};
template <> inline constexpr auto fields<RuleProfile::TerminalLimit> = std::array{
    field<&RuleProfile::TerminalLimit::limit>("limit", "What devices and terminals are rated for.", "75 °C"),
    field<&RuleProfile::TerminalLimit::up_to>("up_to", "Where the current at that limit is no more than this; else the next.", "100 A").more_than(0.0 * ampere),
    field<&RuleProfile::TerminalLimit::as_printed_to>("as_printed_to", "Ambient up to which the column is used as printed.", "40 °C"),
    field<&RuleProfile::TerminalLimit::source>("source", "Where it comes from."),
};
template <> inline constexpr auto fields<RuleProfile> = std::array{
    field<&RuleProfile::name>("name", "What a design calls it.", "au-nz-caravan"),
    field<&RuleProfile::title>("title", "In words.", "Caravans in Australia"),
    field<&RuleProfile::standard>("standard", "What it summarises.", "AS/NZS 3001.2:2022"),
    field<&RuleProfile::legal_status>("legal_status", "Its force, and that it does not replace the standard.", "voluntary"),
    field<&RuleProfile::drop_classes>("drop_classes", "Voltage drop, the mildest last; \"other\" is among them."),
    field<&RuleProfile::drop_judged>("drop_judged", "Over the whole path, or each segment.", "path").optional(),
    field<&RuleProfile::smallest>("smallest", "Smallest conductor; left out: silent.", "1 mm2").more_than(0.0 * square_metre),
    field<&RuleProfile::smallest_in_sheath>("smallest_in_sheath", "Within a common sheath.", "0.75 mm2").more_than(0.0 * square_metre),
    field<&RuleProfile::smallest_beyond>("smallest_beyond", "Asked of longer conductors only.", "200 mm").more_than(0.0 * metre),
    field<&RuleProfile::smallest_name>("smallest_name", "As the standard names it.", "16 AWG").optional(),
    field<&RuleProfile::smallest_fails>("smallest_fails", "A limit that was really read; else a caution.", "true").optional(),
    field<&RuleProfile::smallest_source>("smallest_source", "Where it comes from.").optional(),
    field<&RuleProfile::first_device>("first_device", "Ways to satisfy \"near enough to the source\"; one suffices."),
    field<&RuleProfile::first_device_fails>("first_device_fails", "A limit that was really read; else a caution.", "true").optional(),
    field<&RuleProfile::first_device_source>("first_device_source", "Where it comes from."),
    field<&RuleProfile::loading>("loading", "Most continuous load of a device, of its rating.", "75 %").more_than(Ratio(0.0)).at_most(Ratio(1.0)),
    field<&RuleProfile::loading_source>("loading_source", "Where it comes from."),
    field<&RuleProfile::device_limits>("device_limits", "Largest devices of small conductors, thin ones first.").optional(),
    field<&RuleProfile::clearing_time>("clearing_time", "Time within which the smallest fault has to be cleared; left out: no limit.", "5 s").more_than(0.0 * second),
    field<&RuleProfile::clearing_time_source>("clearing_time_source", "Where it comes from.").optional(),
    field<&RuleProfile::links_exempt>("links_exempt", "Links of a bank up to this length need no device.", "0.35 m").optional().more_than(0.0 * metre),
    field<&RuleProfile::links_exempt_source>("links_exempt_source", "Where it comes from.").optional(),
    field<&RuleProfile::device_each_above>("device_each_above", "Parallel banks above this capacity want a device for each battery.", "500 Ah").more_than(Charge{}),
    field<&RuleProfile::device_each_source>("device_each_source", "Where it comes from.").optional(),
    field<&RuleProfile::ampacity_above>("ampacity_above", "Ampacity table for insulation of 90 °C and more.", "bs-7671-4f2-90"),
    field<&RuleProfile::ampacity_below_90>("ampacity_below_90", "For less.", "bs-7671-4f1-60"),
    field<&RuleProfile::ampacity_small>("ampacity_small", "Below the first row of those.", "bs-7671-4f3a").optional(),
    field<&RuleProfile::ampacity_conduit>("ampacity_conduit", "In conduit.", "bs-7671-4e1a-b").optional(),
    field<&RuleProfile::terminals>("terminals", "Limits of a conductor within 1 m of a device or terminal, cool ones first; left out: none.").optional(),
    field<&RuleProfile::lithium>("lithium", "Where a lithium battery may sit."),
    field<&RuleProfile::sizes>("sizes", "Series to choose from: metric or awg.", "metric"),
    field<&RuleProfile::inspection>("inspection", "What no program can see."),
    field<&RuleProfile::silent_on>("silent_on", "What was not read.", "clearing time"),
};
// clang-format on

namespace tables {
namespace {

const Node::Table* entries_of(const Node* node, std::string_view key, Reading& reading) {
  if (!node) return nullptr;
  const auto* table = std::get_if<Node::Table>(&node->value);
  if (!table)
    reading.diagnostics.error(node->place, std::string(key), "wants a table, got a value");
  return table;
}

void read_marks(File& file, Reading& reading) {
  const auto* letters = entries_of(file.text.marks, "marks", reading);
  if (!letters) return;
  for (const auto& entry : *letters) {
    reading.path = "marks/" + entry.key;
    const auto mark = read<MarkText>(entry.value, reading);
    if (!mark) continue;
    const Source& own = file.source;
    file.marks[entry.key] = {{mark->kind.value_or(own.kind),
                              mark->source.empty() ? own.title : mark->source,
                              mark->where.empty() ? own.where : mark->where},
                             mark->note};
  }
}

}  // namespace

std::optional<File> read_file(const Node& root, std::string_view path,
                              std::vector<BlockText> blocks, std::deque<std::string>& kept,
                              Diagnostics& diagnostics) {
  Reading reading{diagnostics, {}, true};
  auto text = read<FileText>(root, reading);
  if (!text) return std::nullopt;
  File file{std::string(path), &root, *text, {text->kind, text->source, text->where}, {},
            std::move(blocks)};
  if (!text->edition.empty())
    file.source.title =
        kept.emplace_back(std::string(text->source) + ", " + std::string(text->edition));
  read_marks(file, reading);
  return file;
}

std::optional<RuleProfile> read_profile(const Node& root, Diagnostics& diagnostics) {
  Reading reading{diagnostics, {}, true};
  return read<RuleProfile>(root, reading);
}

}  // namespace tables
}  // namespace housepower
