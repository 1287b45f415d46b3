// SPDX-License-Identifier: Apache-2.0
// The edges where files are: what an answer was made from is never written over, what is no file or
// too large is refused before it is read, and what could not be written whole leaves nothing behind.
#include <doctest/doctest.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/un.h>
#include <unistd.h>

#include <chrono>
#include <sstream>

#include "support/schedule_files.hpp"

namespace cli_files {
namespace {

using namespace housepower::test;
namespace fs = std::filesystem;

void write(const std::string& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
}

/// A sound van that names each kind of file which an answer may be made from.
struct Van : Folder {
  std::string base = path + "/base.toml", van = path + "/van.toml", parts = path + "/parts.toml";
  std::string open = path + "/open.toml",
              thin = path + "/thin.toml";  // something to choose, to mend
  std::string loads = path + "/loads.csv", runs = path + "/runs.csv",
              part_list = path + "/list.csv", tables = path + "/tables",
              weather = path + "/year.epw", built = path + "/built.html";
  std::string table = tables + "/colours/dc-red-black.toml";
  Van() {
    const std::string source = HOUSEPOWER_SOURCE_DIR;
    fs::create_directories(path + "/sizing");
    fs::copy_file(source + "/examples/pellibri.toml", base);
    fs::copy_file(source + "/examples/parts.toml", parts);
    fs::copy_file(source + "/examples/loads-marrowick.csv", loads);
    fs::copy_file(source + "/examples/runs-fennimarl.csv", runs);
    fs::copy_file(source + "/examples/parts-fennimarl.csv", part_list);
    fs::create_directories(tables + "/colours");
    fs::copy_file(source + "/tables/colours/dc-red-black.toml", table);
    write(van, "schema = 1\nextends = \"base.toml\"\n[sizing]\ncatalogue = \"parts.toml\"\n");
    write(open, "schema = 1\nextends = \"van.toml\"\n[[run]]\nname = \"bank to main bar\"\n"
                "remove = [\"conductor\"]\n");
    write(built, "<!-- designs --><!-- /designs -->");
    write(thin, "schema = 1\nextends = \"van.toml\"\n[[run]]\nname = \"bank to main bar\"\n"
                "conductor = \"16 mm2\"\n");
  }
};

/// The commands that write a file, as the program tells them.
std::vector<std::string> commands_with_output() {
  std::istringstream help(run_program("--help").out);
  std::vector<std::string> found;
  bool listed = false;
  for (std::string line; std::getline(help, line);) {
    if (line == "Commands:") listed = true;
    else if (line.empty()) listed = false;
    else if (listed) {
      const std::string name = line.substr(2, line.find(' ', 2) - 2);
      if (run_program(name + " --help").out.find("--output") != std::string::npos)
        found.push_back(name);
    }
  }
  return found;
}

std::string quoted(const std::string& path) { return "'" + path + "'"; }

/// Each way to ask that command for a file.
std::string asked(const std::string& command, const Van& of) {
  if (command == "loads") return command + " " + quoted(of.loads);
  if (command == "runs") return command + " --device iso-8820-3-c " + quoted(of.runs);
  if (command == "parts") return command + " " + quoted(of.part_list);
  if (command == "page") return "page " + quoted(of.path) + " --built " + quoted(of.built);
  const std::string design = command + (command == "record" ? " new " : " ") +
                             quoted(command == "wiring" ? of.open
                                    : command == "mend" ? of.thin
                                                        : of.van) +
                             " --tables " + quoted(of.tables);
  if (command == "record") return design + " --serial 1";
  return command == "size" ? design + " --stay '3 d'" : design;
}

double seconds_of(const std::string& arguments) {
  double best = 1e9;
  for (int i = 0; i < 3; ++i) {
    const auto begin = std::chrono::steady_clock::now();
    (void)run_program(arguments);
    best = std::min(
        best, std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count());
  }
  return best;
}

}  // namespace

TEST_CASE("no command writes over what its answer was made from, by whatever name") {
  const Van of;
  const auto commands = commands_with_output();
  CHECK(commands.size() >= 7);
  for (const std::string& command : commands) {
    CAPTURE(command);
    const bool of_list = command == "loads" || command == "runs" || command == "parts";
    std::vector<std::string> inputs{command == "loads"   ? of.loads
                                    : command == "runs"  ? of.runs
                                    : command == "parts" ? of.part_list
                                                         : of.van};
    if (!of_list) inputs.insert(inputs.end(), {of.base, of.parts, of.table});
    for (const std::string& input : inputs) {
      CAPTURE(input);
      const std::string before = text_of(input);
      const std::string soft = of.path + "/soft", hard = of.path + "/hard";
      fs::remove(soft), fs::remove(hard);
      fs::create_symlink(input, soft);
      fs::create_hard_link(input, hard);
      for (const std::string& output :
           {input, soft, hard, of.path + "/sizing/../" + fs::relative(input, of.path).string()}) {
        const Ran ran = run_program(asked(command, of) + " -o " + quoted(output));
        CHECK_MESSAGE(ran.exit == 2, ran.err);
        CHECK(ran.err.find("is read for this answer and would be lost") != std::string::npos);
        CHECK(text_of(input) == before);
        CHECK(text_of(output) == before);
      }
    }
    // Beside them it may write, and again over what it wrote; but a record is only added to.
    const std::string fresh = of.path + "/fresh";
    for (int i = 0; i < 2; ++i) {
      const Ran ran = run_program(asked(command, of) + " -o " + quoted(fresh));
      if (command == "record" && i == 1) CHECK(ran.exit == 4);
      else CHECK_MESSAGE(ran.exit <= 1, ran.err);
    }
    fs::remove(fresh);
  }
}

TEST_CASE("a weather file and a design from standard input are not written over either") {
  const Van of;
  const auto refuses = [](const std::string& arguments, const std::string& output) {
    const std::string before = text_of(output);
    const Ran ran = run_program(arguments + " -o " + quoted(output));
    CHECK_MESSAGE(ran.exit == 2, ran.err);
    CHECK(text_of(output) == before);
  };
  refuses("diagram - < " + quoted(of.base), of.base);
  // A year of 8,760 equal hours, made up.
  std::string year = "LOCATION,Testville,-,AUS,made up,000000,-42.9,147.3,10.0,5.0\n";
  for (int i = 0; i < 6; ++i) year += "COMMENTS,,,,,,,,\n";
  year += "DATA PERIODS,1,1,Data,Sunday,1/1,12/31\n";
  constexpr int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  for (int m = 1; m <= 12; ++m)
    for (int d = 1; d <= days[m - 1]; ++d)
      for (int h = 1; h <= 24; ++h) {
        const bool sun = h > 8 && h <= 16;
        year += "2020," + std::to_string(m) + "," + std::to_string(d) + "," + std::to_string(h) +
                ",0,x,15.0,9.0,60,101000,0,0,300," + (sun ? "300,300,100" : "0,0,0") +
                ",0,0,0,0,180,3.0,5,5,20,77777,9,999999999,10,0.1,0,88,0.2,0,0\n";
      }
  write(of.weather, year);
  write(of.path + "/sunny.toml", "schema = 1\nextends = \"base.toml\"\n[place]\nremove = "
                                 "[\"name\"]\nweather = \"year.epw\"\n");
  const Ran sound = run_program("check " + quoted(of.path + "/sunny.toml"));
  REQUIRE_MESSAGE(sound.exit <= 1, sound.err);
  refuses("report " + quoted(of.path + "/sunny.toml"), of.weather);
  refuses("schedule " + quoted(of.path + "/sunny.toml"), of.weather);
}

TEST_CASE("what is no file is refused with what it is, at once") {
  const Folder of;
  const std::string pipe = of.path + "/pipe.toml", socket_path = of.path + "/socket.toml";
  REQUIRE(mkfifo(pipe.c_str(), 0600) == 0);
  const int listening = socket(AF_UNIX, SOCK_STREAM, 0);
  sockaddr_un address{};
  address.sun_family = AF_UNIX;
  socket_path.copy(address.sun_path, sizeof address.sun_path - 1);
  REQUIRE(bind(listening, reinterpret_cast<const sockaddr*>(&address), sizeof address) == 0);
  struct Row {
    std::string file, says;
  };
  for (const Row& row :
       {Row{"/dev/zero", "it is a device"}, Row{"/dev/null", "it is a device"},
        Row{pipe, "it is a pipe"}, Row{socket_path, "it is a socket"}, Row{of.path, "is a folder"},
        Row{of.path + "/none.toml", "there is no such file"}}) {
    CAPTURE(row.file);
    for (const std::string& command : std::vector<std::string>{
             "check ", "loads ", "diagram ", "size examples/sizing/pellibri.toml --catalogue "}) {
      const Ran ran = run_shell("timeout 10 " + program + " " + command + quoted(row.file));
      CHECK_MESSAGE(ran.exit == 4, ran.err);
      CHECK_MESSAGE(ran.err.find(row.says) != std::string::npos, ran.err);
    }
    write(of.path + "/extends.toml", "schema = 1\nextends = \"" + row.file + "\"\n");
    const Ran below = run_program("check " + of.path + "/extends.toml");
    CHECK(below.exit == 3);
    CHECK_MESSAGE(below.err.find(row.says) != std::string::npos, below.err);
  }
  close(listening);
}

TEST_CASE("a file over the limit is refused by its size, standard input where it passes it") {
  const Folder of;
  const std::string large = of.path + "/large.toml";
  write(large, "schema = 1\n");
  fs::resize_file(large, 100'000'000);
  const Ran ran = run_program("check " + large);
  CHECK(ran.exit == 4);
  CHECK_MESSAGE(ran.err.find("larger than 64 MB") != std::string::npos, ran.err);
  CHECK(seconds_of("check " + large) < 0.1);
  for (const std::string& from :
       {"- < " + large, std::string("- < /dev/zero"), std::string("- < /dev/null")}) {
    CAPTURE(from);
    const Ran typed = run_program("check " + from);
    const bool empty = from.find("null") != std::string::npos;
    CHECK(typed.exit == (empty ? 3 : 4));
    if (!empty) CHECK(typed.err.find("larger than 64 MB") != std::string::npos);
  }
  const Ran piped = run_shell("cat examples/faulty/base.toml | " + program + " check -");
  CHECK_MESSAGE(piped.exit <= 1, piped.err);
}

TEST_CASE("what cannot be written whole leaves nothing behind") {
  const Folder of;
  for (const std::string command : {"diagram", "report", "schedule --format xlsx"}) {
    CAPTURE(command);
    // No file may grow beyond one block.
    const Ran ran = run_shell("(ulimit -f 1; exec " + program + " " + command +
                              " examples/marrowick.toml -o " + of.path + "/out.xlsx)");
    CHECK_MESSAGE(ran.exit == 4, ran.err);
    CHECK(ran.err.find("error: ") != std::string::npos);
    CHECK(fs::is_empty(of.path));
  }
}

TEST_CASE("a broken table in a folder of tables is refused, also where the answer needs it not") {
  const Folder of;
  fs::create_directories(of.path + "/tables/cells");
  fs::create_directories(of.path + "/tables/ampacity");
  const std::string tables = of.path + "/tables";
  struct Row {
    std::string file, text;
  };
  for (const Row& row : {Row{"/cells/broken.toml", "name = \"broken\n"},
                         Row{"/ampacity/broken.toml", "name = \"broken\"\ntitle = \"x\"\n"},
                         Row{"/ampacity/broken.toml",
                             text_of(HOUSEPOWER_SOURCE_DIR "/tables/ampacity/iso-10133-a.toml") +
                                 "\nnonsense = 1\n"}}) {
    CAPTURE(row.file);
    write(tables + row.file, row.text);
    for (const std::string command : {"check examples/pellibri.toml", "tables"}) {
      const Ran ran = run_program(command + " --tables " + tables);
      CHECK_MESSAGE(ran.exit == 3, ran.err);
      CHECK(ran.err.find("broken.toml") != std::string::npos);
    }
    fs::remove(tables + row.file);
  }
  CHECK(run_program("check examples/pellibri.toml --tables " + tables).exit <= 1);
  fs::create_directories(tables + "/fuses");
  fs::create_symlink("/dev/zero", tables + "/fuses/endless.toml");
  const Ran ran = run_program("check examples/pellibri.toml --tables " + tables);
  CHECK(ran.exit == 4);
  CHECK(ran.err.find("it is a device") != std::string::npos);
}

}  // namespace cli_files
