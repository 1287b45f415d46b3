// SPDX-License-Identifier: Apache-2.0
// range and compare as a person runs them: every file once, broken ones seen, any number of cores.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "support/json_answer.hpp"

namespace cli_range {
namespace {

using namespace housepower::test;
namespace fs = std::filesystem;

/// A folder of its own for a test, gone at its end.
struct Folder {
  fs::path path = fs::temp_directory_path() / fs::path("housepower-range-XXXXXX");
  Folder() {
    std::string name = path.string();
    REQUIRE(mkdtemp(name.data()) != nullptr);
    path = name;
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() { fs::remove_all(path); }
  void write(const char* name, const std::string& text) const {
    fs::create_directories((path / name).parent_path());
    std::ofstream(path / name, std::ios::binary) << text;
  }
  [[nodiscard]] std::string name() const { return "'" + path.string() + "'"; }
};

/// Whatever the verdicts are.
Json answered(const std::string& arguments) {
  const Json json = Json::parse(run_program(arguments + " --format json").out, nullptr, false);
  REQUIRE(!json.is_discarded());
  return json;
}

const std::string extends_base =
    "extends = \"" HOUSEPOWER_SOURCE_DIR "/examples/faulty/base.toml\"\n";

}  // namespace

TEST_CASE("range tells every design of a folder once, packs too, in the order of their names") {
  std::vector<std::string> files;
  for (const char* folder : {"examples/packs", "examples/faulty"})
    for (const auto& entry :
         fs::directory_iterator(HOUSEPOWER_SOURCE_DIR "/" + std::string(folder)))
      files.push_back(std::string(folder) + "/" + entry.path().filename().string());
  std::sort(files.begin(), files.end());
  const Json json = json_of("range examples/packs examples/faulty examples/packs/", 1);
  std::vector<std::string> found;
  for (const Json& row : json["designs"]) {
    found.push_back(row["file"]);
    for (const char* key :
         {"name",        "verdict",  "place",        "summer_Ah",     "autumn_Ah", "winter_Ah",
          "spring_Ah",   "daily_Ah", "autonomy_d",   "stay_d",        "fail",      "caution",
          "not_checked", "pass",     "worst_rule",   "worst_subject", "mass_kg",   "copper_kg",
          "price",       "prices",   "inputs_digest"})
      CHECK_MESSAGE(row.contains(key), key);
  }
  CHECK(found == files);
  CHECK(json["of"] == files.size());
}

TEST_CASE("a row of range is what check says of the same file") {
  const Json check = json_of("check examples/packs/marrowick-winter.toml", 0);
  const Json row = json_of("range examples/packs/marrowick-winter.toml", 0)["designs"][0];
  CHECK(row["verdict"] == check["verdict"]);
  CHECK(row["pass"] == check["counts"]["pass"]);
  CHECK(row["autonomy_d"] == check["energy"]["autonomy_d"]);
  CHECK(row["inputs_digest"] == check["design"]["inputs_digest"]);
}

TEST_CASE("rows sort by a column and keep to conditions") {
  const Json rows = json_of("range examples --where mass_kg'>'100 --sort=-mass_kg", 1)["designs"];
  REQUIRE(rows.size() >= 3);
  for (std::size_t i = 0; i + 1 < rows.size(); ++i)
    CHECK(rows[i]["mass_kg"].get<double>() >= rows[i + 1]["mass_kg"].get<double>());
  for (const Json& row : rows) CHECK(row["mass_kg"].get<double>() > 100.0);
  CHECK(rows[0]["name"] == "Quondelay six-berth long-range, outback");
  CHECK(run_program("range examples --where 'weight>3'").exit == 2);
  CHECK(run_program("range examples --sort weight").err.find("is not a column") !=
        std::string::npos);
}

TEST_CASE(
    "a broken design is a row of its own among the good ones, and what is no design is named") {
  const Folder folder;
  folder.write("a.toml", extends_base);
  folder.write("b.toml", extends_base + "[promise]\nautonomie = \"2 d\"\n");
  folder.write("c.toml", "[vehicle\n");
  folder.write("deep/d.toml", extends_base + "[vehicle]\nname = \"=1+1\"\n");
  folder.write("parts.toml", "[[part]]\nname = \"B100\"\nis = \"battery\"\n");
  folder.write("half.toml", "[bank]\nquantity = 2\n");
  folder.write("notes.txt", "no TOML");
  folder.write("slip.toml", "[vehicl]\nname = \"a design, misspelt\"\n");
  const Json json = json_of("range " + folder.name(), 3);
  REQUIRE(json["designs"].size() == 5);
  CHECK(json["designs"][4]["verdict"] == "not-read");
  CHECK(json["designs"][0]["verdict"] == "pass");
  CHECK(json["designs"][1]["verdict"] == "not-read");
  CHECK(json["designs"][1]["problem"].get<std::string>().find("b.toml:3:1: promise/autonomie") !=
        std::string::npos);
  CHECK(json["designs"][1]["mass_kg"].is_null());
  CHECK(json["designs"][2]["verdict"] == "not-read");
  CHECK(json["designs"][3]["verdict"] == "pass");
  REQUIRE(json["left_out"].size() == 2);
  CHECK(json["left_out"][0]["why"].get<std::string>().find("no [vehicle]") != std::string::npos);
  CHECK(json["left_out"][1]["why"] == "a catalogue of parts");

  const Ran csv = run_program("range " + folder.name() + " --format csv --where verdict=pass");
  CHECK(csv.exit == 3);
  CHECK(std::count(csv.out.begin(), csv.out.end(), '\n') == 6);  // head, two good, three not read
  CHECK(csv.out.find("\r\n'=1+1,") != std::string::npos);        // no spreadsheet runs it
  CHECK(csv.err.find("error: ") != std::string::npos);
  CHECK(csv.err.find("licensed electrician") != std::string::npos);

  CHECK(run_program("range " + folder.name() + "/nowhere.toml").exit == 4);
  CHECK(run_program("range " + folder.name() + "/parts.toml").exit == 3);  // asked for by its name
}

TEST_CASE("the answer of range is the same on one core and on all") {
  const std::string command = "range examples/packs examples/faulty --format json";
  const Ran all = run_program(command);
  const std::string one =
      "cd '" HOUSEPOWER_SOURCE_DIR "' && taskset -c 0 " + program + " " + command + " 2>/dev/null";
  if (std::system("taskset -c 0 true 2>/dev/null") != 0) {
    MESSAGE("there is no taskset here: not compared");
    return;
  }
  std::string out;
  FILE* pipe = popen(one.c_str(), "r");
  REQUIRE(pipe != nullptr);
  std::array<char, 4096> piece{};
  while (const std::size_t n = std::fread(piece.data(), 1, piece.size(), pipe))
    out.append(piece.data(), n);
  pclose(pipe);
  CHECK(out == all.out);
  CHECK(run_program(command).out == all.out);
}

TEST_CASE("a range goes over places and months: a row a design, place and month") {
  const Json json = answered(
      "range examples/packs/marrowick-winter.toml examples/pellibri.toml --place Darwin,MUNICH "
      "--month jul,1");
  REQUIRE(json["designs"].size() == 8);
  CHECK(json["of"] == 8);
  std::string order;
  for (const Json& row : json["designs"])
    order += row["place"].get<std::string>() + " " + row["month"].get<std::string>() + "; ";
  CHECK(order == "darwin July; darwin January; munich July; munich January; "
                 "darwin July; darwin January; munich July; munich January; ");
  const Json check =
      answered("check examples/pellibri.toml --set place/name=munich --set place/month=january");
  CHECK(json["designs"][7]["autonomy_d"] == check["energy"]["autonomy_d"]);
  CHECK(json["designs"][7]["verdict_safety"] == check["verdict_safety"]);
  CHECK(json["designs"][7]["autonomy_is_at_least"] == false);
  CHECK(answered("range examples/pellibri.toml --place all --stays none")["designs"].size() >= 90);
  CHECK(answered("range examples/pellibri.toml --month all --stays none")["designs"].size() == 12);

  const Ran town = run_program("range examples/pellibri.toml --place darwn,hobart");
  CHECK(town.exit == 3);
  CHECK(town.err.find("did you mean \"darwin\"?") != std::string::npos);
  const Ran month = run_program("range examples/pellibri.toml --month juli");
  CHECK(month.exit == 3);
  CHECK(month.err.find("\"juli\" is not a month") != std::string::npos);
  CHECK(run_program("range examples/pellibri.toml --years 0").exit == 2);
}

TEST_CASE("parts of a range are joined to the bytes of the whole, in any order") {
  const Folder folder;
  const auto in = [&](const std::string& name) {
    return "'" + (folder.path / name).string() + "'";
  };
  const auto bytes = [&](const std::string& name) {
    std::ifstream file(folder.path / name, std::ios::binary);
    return std::string(std::istreambuf_iterator<char>(file), {});
  };
  const Ran whole =
      run_program("range examples/packs examples/faulty --stays none --month july,may "
                  "--format csv -o " +
                  in("whole.csv"));
  CHECK(whole.exit == 1);
  CHECK(whole.out.empty());
  for (const char* part : {"1", "2", "3"}) {
    const Ran ran =
        run_program("range examples/packs examples/faulty --stays none --month july,may "
                    "--part " +
                    std::string(part) + "/3 -o " + in(std::string(part) + ".csv"));
    CHECK(ran.exit <= 1);
  }
  const Ran joined = run_program("range --join " + in("3.csv") + " " + in("1.csv") + " " +
                                 in("2.csv") + " -o " + in("joined.csv"));
  CHECK(joined.exit == 1);  // as the whole: a design fails
  CHECK(joined.err.find("licensed electrician") != std::string::npos);
  CHECK(bytes("joined.csv") == bytes("whole.csv"));
  const std::string first = bytes("1.csv");
  CHECK(std::count(first.begin(), first.end(), '\n') > 3);
  CHECK(run_program("range --join " + in("2.csv") + " " + in("1.csv") + " " + in("3.csv")).out ==
        bytes("whole.csv"));

  const Ran missing = run_program("range --join " + in("3.csv") + " " + in("1.csv"));
  CHECK(missing.exit == 3);
  CHECK(missing.out.empty());
  CHECK(missing.err.find("part 2/3 is missing") != std::string::npos);
  const Ran lost = run_program("range --join " + in("1.csv") + " " + in("nowhere.csv"));
  CHECK(lost.exit == 4);
  // A part is not written over by what is joined from it.
  CHECK(run_program("range --join " + in("1.csv") + " " + in("2.csv") + " " + in("3.csv") + " -o " +
                    in("1.csv"))
            .exit == 2);
}

TEST_CASE("what is no part, and options that do not go with one, are refused") {
  for (const char* part : {"0/3", "4/3", "3", "1/", "/3", "1/x", "-1/3", "1/3/5", "1/2000000"}) {
    CAPTURE(std::string(part));
    CHECK(
        run_program("range examples/pellibri.toml --stays none --part=" + std::string(part)).exit ==
        2);
  }
  for (const char* options :
       {"--part 1/2 --sort name", "--part 1/2 --where verdict=fail", "--part 1/2 --columns all",
        "--columns name --format csv", "--columns nmae", "--join --part 1/2", "--join --month july",
        "--join --format json", "--join --sort name"})
    CHECK_MESSAGE(run_program("range examples/pellibri.toml " + std::string(options)).exit == 2,
                  options);
}

TEST_CASE("at a glance a design is one line of at most a hundred columns, with its safety") {
  const Folder folder;
  folder.write("a.toml", extends_base + "[vehicle]\nname = \"A model whose name is longer than any "
                                        "line of a screen should be, with a pack in the end\"\n");
  folder.write("b.toml", extends_base);
  folder.write("c.toml", "[vehicle\n");
  const Ran ran = run_program("range " + folder.name() + " --stays none");
  std::istringstream lines(ran.out);
  std::vector<std::string> rows;
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with("  ")) rows.push_back(line);
    std::size_t columns = 0;
    for (const char c : line) columns += (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
    CHECK_MESSAGE(columns <= 100, line);
  }
  REQUIRE(rows.size() >= 4);
  rows.erase(rows.begin(), rows.end() - 3);  // the heads
  CHECK(rows[0].find("…") != std::string::npos);
  CHECK(rows[0].find("in the end") != std::string::npos);
  CHECK(rows[0].find("pass") != std::string::npos);
  CHECK(rows[1].find("Lanternhouse 4") != std::string::npos);
  CHECK(rows[2].find("not read") != std::string::npos);
  CHECK(ran.out.find("Safety: 0 fail, 0 caution, 2 pass") != std::string::npos);
  CHECK(ran.out.find("Mass and price") == std::string::npos);
  CHECK(run_program("range " + folder.name() + " --stays none --columns all")
            .out.find("Mass and price") != std::string::npos);
  const Ran two = run_program("range " + folder.name() + " --stays none --columns file,mass_kg");
  CHECK(two.out.find("b.toml  34.5") != std::string::npos);
}

TEST_CASE("the part that a script asks for is made once, and not half") {
  const Folder folder;
  const auto script = [&](const std::string& what) {
    const std::string command = "cd '" HOUSEPOWER_SOURCE_DIR "' && HOUSEPOWER=" + program +
                                " contrib/range-part.sh " + folder.name() + " " + what +
                                " >/dev/null 2>&1";
    const int status = std::system(command.c_str());
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  };
  CHECK(script("1 2 examples/packs --stays none") == 0);
  const fs::path made = folder.path / "000001-of-2.csv";
  REQUIRE(fs::exists(made));
  const auto when = fs::last_write_time(made);
  CHECK(script("1 2 examples/packs --stays none") == 0);
  CHECK(fs::last_write_time(made) == when);
  CHECK(script("3 2 examples/packs --stays none") == 2);
  CHECK(script("2 2 examples/nowhere.toml examples/packs --stays none") == 4);
  CHECK_FALSE(fs::exists(folder.path / "000002-of-2.csv"));
  CHECK(std::distance(fs::directory_iterator(folder.path), fs::directory_iterator()) <= 3);
}

TEST_CASE("compare answers one row a change, and exits with 1 where something newly fails") {
  const std::string van = "compare examples/faulty/base.toml examples/faulty/base.toml";
  const Json same = json_of(van, 0);
  CHECK(same["changes"].empty());
  CHECK(run_program(van).out.find("No difference.") != std::string::npos);
  const Json thin = json_of(van + " --set 'run/cooler/conductor=0.75 mm2'", 1);
  CHECK(thin["newly_fails"] == true);
  REQUIRE(!thin["changes"].empty());
  CHECK(thin["changes"][0]["part"] == "finding");
  int of_the_design = 0;
  for (const Json& row : thin["changes"]) {
    for (const char* key : {"part", "path", "before", "after", "change", "unit"})
      CHECK_MESSAGE(row.contains(key), key);
    if (row["part"] != "design") continue;
    ++of_the_design;
    CHECK(row["path"] == "run/cooler/conductor");
    CHECK(row["before"] == "6 mm2");
    CHECK(row["after"] == "0.75 mm2");
  }
  CHECK(of_the_design == 1);
  CHECK(json_of("compare examples/faulty/drop.toml examples/faulty/base.toml", 0)["newly_fails"] ==
        false);
  CHECK(run_program("compare examples/pellibri.toml").exit == 2);
}

TEST_CASE("a folder without designs is no answer") {
  const std::string folder = "/tmp/housepower-none-" + std::to_string(getpid());
  std::filesystem::create_directory(folder);
  const auto ran = run_program("range " + folder);
  std::filesystem::remove(folder);
  CHECK(ran.exit == 4);
  CHECK(ran.err.find("no design file") != std::string::npos);
}

}  // namespace cli_range
