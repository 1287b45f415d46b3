// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/size.hpp"

#include "housepower/answers/named_files.hpp"
#include "housepower/design/far_place.hpp"
#include "housepower/design/open.hpp"
#include "told.hpp"

namespace housepower::answers {
namespace {

/// The design with its stock and what was asked of its sizing.
design::Document asked_document(const GivenDesign& given, const SizeAsked& asked,
                                const std::vector<design::Part>& parts) {
  design::Document document = given.document;
  add_stock(document, parts);
  auto& sizing = document.sizing;
  if (!asked.places.empty() || !asked.keep.empty()) sizing = sizing.value_or(design::Sizing{});
  if (!asked.places.empty()) sizing->places = asked.places;
  if (asked.its_place_alone && sizing) sizing->places.clear();
  for (const auto& name : asked.keep) sizing->keep.push_back(name);
  return document;
}

void add_notes(std::vector<std::string>& notes, const GivenDesign& given) {
  const design::Design& d = given.design;
  if (d->runs.empty())
    notes.emplace_back("The design has no run of cable: everything is counted as connected "
                       "straight to the bank. No cable and no fuse was chosen or checked.");
  if (d->site.made)
    notes.push_back("The climate of the place is interpolated from that of " + d->site.made_of +
                    ".");
  if (const std::string far = design::far_climate(d); !far.empty())
    notes.push_back("What is counted with rests on a climate of elsewhere: " + far +
                    ". Use an hourly weather file.");
  notes.insert(notes.end(), given.told.begin(), given.told.end());
}

}  // namespace

std::optional<PackReport> size(const GivenDesign& given, const SizeAsked& asked,
                               const FileReader& read, Diagnostics& diagnostics,
                               const energy::Each& each) {
  const auto parts = parts_for(asked.catalogue, given, read, diagnostics);
  const auto document = asked_document(given, asked, parts);
  pack::PackQuestion question;
  if (document.sizing && document.sizing->least) question.least = *document.sizing->least;
  if (asked.least) question.least = *asked.least;
  std::optional<pack::PackAnswer> answer;
  Diagnostics found;
  if (!diagnostics.any_error())
    answer = pack::size_pack(document, parts, given.tables, question, each, found);
  tell_new(found, diagnostics);
  if (!answer) {
    design::locate(diagnostics, given.node);
    return std::nullopt;
  }
  add_notes(answer->notes, given);
  if (answer->best) answer->choices[*answer->best].document.part = given.document.part;
  return PackReport{given.design, *std::move(answer), question.least, given.inputs_digest,
                    diagnostics};
}

}  // namespace housepower::answers
