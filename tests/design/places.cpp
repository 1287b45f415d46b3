// SPDX-License-Identifier: Apache-2.0
// Where a van stands: names of towns and months as people type them, places between towns, and
// which of several files says where.
#include <cmath>
#include <fstream>
#include <map>

#include "van.hpp"

namespace design_places {

using namespace van;

namespace {

Tried at(const std::string& place) { return opened(text + "[place]\n" + place + "\n"); }

std::string coordinates(double latitude, double longitude, double height) {
  return "latitude = \"" + std::to_string(latitude) + "°\"\nlongitude = \"" +
         std::to_string(longitude) + "°\"\nheight = \"" + std::to_string(height) + " m\"";
}

/// Great circle by the haversine, on a sphere of 6371 km.
double kilometres(double lat1, double lon1, double lat2, double lon2) {
  const double rad = 3.14159265358979 / 180.0;
  const double a = std::sin((lat2 - lat1) * rad / 2), b = std::sin((lon2 - lon1) * rad / 2);
  return 2.0 * 6371.0 *
         std::asin(std::sqrt(a * a + std::cos(lat1 * rad) * std::cos(lat2 * rad) * b * b));
}

constexpr std::size_t july = 6;

}  // namespace

TEST_CASE("a town is found in any letters, with or without its country") {
  struct Row {
    const char *written, *name;
  };
  for (const Row& row :
       {Row{"hobart", "hobart"}, Row{"Hobart", "hobart"}, Row{"HOBART", "hobart"},
        Row{" hobart ", "hobart"}, Row{"alice springs", "alice-springs"},
        Row{"Alice_Springs", "alice-springs"}, Row{"Alice Springs, Australia", "alice-springs"},
        Row{"lyon,france", "lyon"}, Row{"Paris (Orly)", "paris"}, Row{"paris, france", "paris"}}) {
    CAPTURE(row.written);
    const Tried tried = at("name = \"" + std::string(row.written) + "\"");
    REQUIRE(tried.design()->site.town);
    CHECK(tried.design()->site.town->name == row.name);
  }
  const Tried wrong = at("name = \"Hobat\"");
  REQUIRE(wrong.about("place/name"));
  CHECK(wrong.about("place/name")->hint == "did you mean \"hobart\"?");
  const Tried nowhere = at("name = \"Xanadu-on-Sea\"");
  REQUIRE(nowhere.about("place/name"));
  CHECK(nowhere.about("place/name")->hint.find("--at") != std::string::npos);
}

TEST_CASE("a month is found in any letters, by its beginning and by its number") {
  struct Row {
    const char* written;
    int month;
  };
  for (const Row& row :
       {Row{"july", 6}, Row{"July", 6}, Row{"JUL", 6}, Row{"jul.", 6}, Row{"7", 6}, Row{"07", 6},
        Row{"sept", 8}, Row{"Sep", 8}, Row{"12", 11}, Row{"may", 4}, Row{"1", 0}}) {
    CAPTURE(row.written);
    const Tried tried = at("name = \"hobart\"\nmonth = \"" + std::string(row.written) + "\"");
    CHECK(tried.design()->site.month == row.month);
  }
  CHECK_FALSE(at("name = \"hobart\"\nmonth = \"Worst\"").design()->site.month);
  for (const char* wrong : {"ju", "13", "0", "7.5", "-7", "jux", "j"}) {
    CAPTURE(wrong);
    const Tried tried = at("name = \"hobart\"\nmonth = \"" + std::string(wrong) + "\"");
    CHECK_FALSE(tried.opened);
    CHECK(tried.about("place/month"));
  }
}

TEST_CASE("at a town's own coordinates and height stand its own values") {
  for (const auto& town : shipped().towns) {
    CAPTURE(town.name);
    const Tried tried =
        at(coordinates(town.latitude / degree, town.longitude / degree, town.elevation / metre));
    const auto& site = tried.design()->site;
    REQUIRE(site.made);
    CHECK(site.town == site.made.get());
    CHECK_FALSE(site.far);
    for (std::size_t m = 0; m < 12; ++m) {
      CHECK(site.town->sunshine[m] == town.sunshine[m]);
      CHECK(in_celsius(site.town->highest[m]) == doctest::Approx(in_celsius(town.highest[m])));
      CHECK(in_celsius(site.town->lowest[m]) == doctest::Approx(in_celsius(town.lowest[m])));
    }
    CHECK(site.town->record_low.has_value() == town.record_low.has_value());
  }
}

TEST_CASE("a highland lake lies between its towns, and is colder than both by its height") {
  const Tried tried = at(coordinates(-42.1, 146.6, 730.0));
  const auto& site = tried.design()->site;
  REQUIRE(site.made);
  CHECK(site.town->title == "between Hobart and Launceston, 730 m");
  CHECK(site.made_of == "Launceston (80 km, 178 m) and Hobart (110 km, 27 m)");
  CHECK_FALSE(site.far);
  CHECK(site.town->latitude / degree == doctest::Approx(-42.1));
  // The table: Hobart −42.83, 147.50, 27 m: July 4.4 °C, 5.02 h, record −1.6 °C or so; Launceston
  // −41.54, 147.20, 178 m: 2.2 °C, 4.61 h. Weights by 1 / distance, 6.5 K for each kilometre.
  const double h = 1.0 / kilometres(-42.1, 146.6, -42.83, 147.50),
               l = 1.0 / kilometres(-42.1, 146.6, -41.54, 147.20), all = h + l;
  const double cold = (h * (4.4 - 6.5 * 0.703) + l * (2.2 - 6.5 * 0.552)) / all;
  CHECK(in_celsius(site.town->lowest[july]) == doctest::Approx(cold).epsilon(1e-4));
  CHECK(site.town->sunshine[july] / hour ==
        doctest::Approx((h * 5.02 + l * 4.61) / all).epsilon(1e-4));
  for (const auto* name : {"hobart", "launceston"})
    for (std::size_t m = 0; m < 12; ++m) {
      CHECK(site.town->lowest[m] < shipped().town(name)->lowest[m]);
      CHECK(site.town->highest[m] < shipped().town(name)->highest[m]);
    }
  CHECK(tried.design()->site.record_low < shipped().town("hobart")->record_low);
}

TEST_CASE("each kilometre of height is 6.5 K, and changes no sunshine") {
  const Tried low = at(coordinates(-42.1, 146.6, 230.0)),
              high = at(coordinates(-42.1, 146.6, 1230.0));
  for (std::size_t m = 0; m < 12; ++m) {
    const auto &below = *low.design()->site.town, &above = *high.design()->site.town;
    CHECK((below.lowest[m] - above.lowest[m]) / kelvin == doctest::Approx(6.5));
    CHECK((below.highest[m] - above.highest[m]) / kelvin == doctest::Approx(6.5));
    CHECK(below.sunshine[m] == above.sunshine[m]);
  }
}

TEST_CASE("a place between none has the climate of the nearest") {
  const Tried tried = at(coordinates(-44.0, 147.5, 27.0));  // in the sea south of Hobart
  const auto& site = tried.design()->site;
  CHECK(site.town->title == "near Hobart, 27 m");
  CHECK(site.town->sunshine == shipped().town("hobart")->sunshine);
  CHECK_FALSE(site.far);
}

TEST_CASE("farther than 300 km from every town is a caution") {
  const Tried tried = at(coordinates(-47.0, 147.5, 27.0));
  CHECK(tried.design()->site.far);  // 464 km south of Hobart
  const auto* said = tried.about("place/latitude");
  REQUIRE(said);
  CHECK(said->severity == Severity::warning);
  CHECK(said->message.find("Hobart, is 464 km away") != std::string::npos);
}

TEST_CASE("latitude, longitude and height go together, and with no name") {
  CHECK(at("latitude = \"-42°\"\nlongitude = \"147°\"").about("place/latitude"));
  CHECK(at("name = \"hobart\"\nheight = \"3 m\"").about("place/height"));
  CHECK(at("name = \"hobart\"\n" + coordinates(-42.0, 147.0, 3.0)).about("place"));
  CHECK(at("latitude = \"-91°\"\nlongitude = \"147°\"\nheight = \"3 m\"").about("place/latitude"));
}

TEST_CASE("towns left out in turn come out of the others as the page says") {
  // Of each town with another within 300 km. The figures of the page were calculated apart, in another
  // language, from the same table.
  double sunshine = 0.0, highest = 0.0, lowest = 0.0;
  int months = 0, towns = 0;
  Diagnostics unused;
  const auto node = parse_toml(text + "[place]\nname = \"hobart\"\n", "van.toml", unused);
  REQUIRE(node);
  const auto document = design::document_of(*node, unused);
  REQUIRE(document);
  tables::Tables fewer = shipped();
  for (std::size_t i = 0; i < shipped().towns.size(); ++i) {
    const auto& town = shipped().towns[i];
    fewer.towns = shipped().towns;
    fewer.towns.erase(fewer.towns.begin() + std::ptrdiff_t(i));
    Document there = *document;
    there.location->name.reset();
    there.location->latitude = town.latitude;
    there.location->longitude = town.longitude;
    there.location->height = town.elevation;
    Diagnostics problems;
    const auto d = design::resolve(there, fewer, Defaults::ordinary, problems);
    REQUIRE(d);
    if ((*d)->site.far) continue;
    ++towns;
    const auto& made = *(*d)->site.town;
    for (std::size_t m = 0; m < 12; ++m, ++months) {
      sunshine += std::pow((made.sunshine[m] - town.sunshine[m]) / hour, 2);
      highest += std::pow((made.highest[m] - town.highest[m]) / kelvin, 2);
      lowest += std::pow((made.lowest[m] - town.lowest[m]) / kelvin, 2);
    }
  }
  CHECK(towns == 39);
  const auto off = [&](double squares) { return std::sqrt(squares / months); };
  CHECK(off(sunshine) == doctest::Approx(0.73).epsilon(0.01));
  CHECK(off(highest) == doctest::Approx(1.57).epsilon(0.01));
  CHECK(off(lowest) == doctest::Approx(1.53).epsilon(0.01));
  std::ifstream page(HOUSEPOWER_SOURCE_DIR "/docs/MEASURED.md");
  const std::string all((std::istreambuf_iterator<char>(page)), {});
  CHECK(all.find("| 39 towns with another within 300 km | 0.73 h | 1.57 K | 1.53 K |") != all.npos);
}

namespace {

const std::string base = text + "[place]\nname = \"hobart\"\nmonth = \"july\"\n";

/// A file that extends the sound van at Hobart, and overrides.
Tried extended(const std::string& place, const std::vector<std::string>& sets = {}) {
  Tried tried;
  const FileReader reader = [&](std::string_view file) -> FileContent {
    if (file == "base.toml") return std::optional(base);
    return std::optional("extends = \"base.toml\"\n[place]\n" + place + "\n");
  };
  tried.opened = design::open_design("van.toml", reader, sets, shipped(), Defaults::ordinary,
                                     tried.diagnostics);
  return tried;
}

}  // namespace

TEST_CASE("a later file that says where drops what an earlier one says") {
  const Tried lake = extended(coordinates(-42.1, 146.6, 730.0));
  CHECK(lake.design()->site.made);
  CHECK(lake.design()->site.month == 6);  // the rest of the table stays
  CHECK(lake.opened->document.location->name == std::nullopt);
  const Tried file = extended("weather = \"camp.epw\"");
  CHECK(file.design()->site.weather == "camp.epw");
  CHECK(file.design()->site.town == nullptr);  // nobody read it here
  const Tried again = extended("weather = \"camp.epw\"", {"place/name=darwin"});
  CHECK(again.design()->site.town->name == "darwin");
  CHECK(again.design()->site.weather.empty());
  const Tried moved = extended(coordinates(-42.1, 146.6, 730.0), {"place/height=1000 m"});
  CHECK(moved.design()->site.town->elevation == 1000.0 * metre);
  const Tried removed = extended("remove = [\"name\"]\nweather = \"camp.epw\"");
  CHECK(removed.design()->site.weather == "camp.epw");
}

TEST_CASE("two ways to say where in one file are still an error") {
  const Tried both = extended("name = \"darwin\"\nweather = \"camp.epw\"");
  CHECK_FALSE(both.opened);
  REQUIRE(both.about("place"));
  CHECK(both.about("place")->message.find("exactly one") != std::string::npos);
}

TEST_CASE("no town beyond the equator has a say in the climate of a place") {
  // Between Quito and the coast the nearest towns of the table may stand on either side.
  for (const double latitude : {-4.0, -1.0, 1.0, 4.0})
    for (const double longitude : {-75.0, 36.0, 105.0}) {
      CAPTURE(latitude);
      CAPTURE(longitude);
      const Tried tried = at(coordinates(latitude, longitude, 100));
      REQUIRE(tried.design()->site.town);
      const std::string made = tried.design()->site.made_of;
      for (const auto& town : tried.design()->tables->towns)
        if (town.latitude.value() * latitude < 0.0 && !town.only_measured)
          CHECK(made.find(town.title + " (") == made.npos);
    }
}

}  // namespace design_places
