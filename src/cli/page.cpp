// SPDX-License-Identifier: Apache-2.0
// page: a maker's own page, which holds its range and needs no program.
#include "commands.hpp"
#include "housepower/report/own_page.hpp"
#include "verbs.hpp"
#include "write_file.hpp"

namespace housepower::cli {

struct PageOptions {
  std::string folder;
  std::optional<std::string> output, title, about, contact, built;
};

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto fields<cli::PageOptions> = std::array{
    field<&cli::PageOptions::folder>(
        "file", "The folder of designs, with their option packs, parts and prices.", "vans"),
    field<&cli::PageOptions::output>(
        "output", "The file to write, whole or not at all; left out, standard output.",
        "range.html"),
    field<&cli::PageOptions::title>("title", "What stands at the head of the page.",
                                    "Our caravans"),
    field<&cli::PageOptions::about>("about", "A sentence below the title.",
                                    "Which van stays out how long."),
    field<&cli::PageOptions::contact>("contact", "Whom a reader asks.", "sales, hall 3"),
    field<&cli::PageOptions::built>(
        "built", "The built page to put them into, instead of the one beside the program.",
        "housepower.html")};
}  // namespace housepower

namespace housepower::cli {
namespace {

answers::PageAsked asked_of(const PageOptions& o, std::vector<std::string> files) {
  answers::PageAsked asked{o.folder, std::move(files), o.title.value_or(""), {}};
  if (o.about) asked.words["about"] = *o.about;
  if (o.contact) asked.words["contact"] = *o.contact;
  return asked;
}

std::optional<std::string> built_page(const PageOptions& options, World& world,
                                      Diagnostics& diagnostics) {
  auto places = world.built_pages;
  if (options.built) places = {*options.built};
  for (const auto& place : places)
    if (options.built || world.files.found(place) == Found::file) {
      auto html = world.read(place);
      if (html) return std::move(*html);
      diagnostics.error({place}, std::string(unreadable), "the built page cannot be read",
                        html.why());
      return std::nullopt;
    }
  diagnostics.error({"--built"}, std::string(unreadable), "no built page is beside the program",
                    "`./dev page` builds it, and --built says where it is");
  return std::nullopt;
}

std::optional<answers::PageContent> content_of(const PageOptions& options, World& world,
                                               Diagnostics& diagnostics) {
  if (world.files.found(options.folder) != Found::folder) {
    diagnostics.error({options.folder}, std::string(unreadable), "there is no such folder");
    return std::nullopt;
  }
  auto files = toml_files_in(world, options.folder, diagnostics);
  const auto shelf = shelf_for(world, {}, diagnostics);
  if (!files || !shelf) return std::nullopt;
  return answers::page_content(asked_of(options, *std::move(files)), *shelf, world.read,
                               diagnostics);
}

}  // namespace

FieldList page_options() { return fields<PageOptions>; }

int run_page(const Node& typed, World& world) {
  const auto options = options_from<PageOptions>(typed, world);
  if (!options) return usage;
  Diagnostics diagnostics;
  const auto content = content_of(*options, world, diagnostics);
  const auto built = content ? built_page(*options, world, diagnostics) : std::nullopt;
  if (!built) return refuse(world, Format::text, diagnostics);
  const auto html = report::own_page(*built, *content);
  if (!html) {
    diagnostics.error({options->built.value_or("housepower.html")}, {},
                      "is no page that `./dev page` built");
    return refuse(world, Format::text, diagnostics);
  }
  warn(world, Format::text, diagnostics);
  return write_out(options->output, *html, world);
}

}  // namespace housepower::cli
