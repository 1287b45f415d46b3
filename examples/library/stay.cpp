// SPDX-License-Identifier: Apache-2.0
// How long does the bank last in July? `stay van.toml` simulates a hundred years of weather, or as many
// as a second word says, tells how far it is, and stops when somebody has had enough (Ctrl-C).
#include <csignal>
#include <cstdlib>
#include <fstream>
#include <iostream>
#include <iterator>

#include <housepower/housepower.hpp>

namespace hp = housepower;

hp::FileContent read_file(std::string_view path) {
  std::ifstream file{std::string(path)};
  if (!file) return std::nullopt;
  return {std::string(std::istreambuf_iterator<char>(file), {})};
}

volatile std::sig_atomic_t enough = 0;
struct Stopped {};

// The library does not loop over the years itself: it hands out the work of one year, and we call it
// for each. So we can tell how far we are, use threads, or leave.
void each_year(int count, const std::function<void(int)>& one_year) {
  for (int year = 0; year < count; ++year) {
    if (enough) throw Stopped{};
    one_year(year);
    if ((year + 1) % 25 == 0) std::cerr << year + 1 << " of " << count << " years\n";
  }
}

int main(int count, char** words) {
  const int years = count < 3 ? 100 : std::atoi(words[2]);
  if (count < 2 || count > 3 || years < 1) {
    std::cerr << "usage: stay DESIGN.toml [YEARS]\n";
    return 2;
  }
  hp::Diagnostics problems;
  const auto tables = hp::tables::read_tables(hp::tables::embedded_tables(), {}, problems);
  const auto van =
      hp::design::open_design(words[1], read_file, {}, *tables, hp::Defaults::ordinary, problems);
  std::cerr << hp::render(problems, read_file);
  if (!van || problems.any_error()) return 3;

  // Weather of the design's place, made up from its monthly means: the same seed, the same years.
  const auto weather = hp::energy::weather_of(van->design, years, 1);
  if (!weather) {
    std::cerr << "the design names no place\n";
    return 3;
  }
  // What drives the van around and what is plugged in charges too.
  const hp::energy::Surroundings around(van->design, *weather, {},
                                        hp::checks::delivered(van->design));
  hp::energy::StayQuestion question;
  question.month = 6;  // they arrive in July; 0 is January

  std::signal(SIGINT, [](int) { enough = 1; });
  try {
    const auto answer = hp::energy::stay(van->design, around, question, each_year);
    if (!answer) {
      std::cerr << "the design has no bank\n";
      return 3;
    }
    // Lengths are told in half days, rounded down.
    const auto told = hp::energy::told(*answer);
    std::cout << "In July " << 100.0 * double(answer->chance) << " % of stays last "
              << double(told.parked.length / hp::day) << " d parked, "
              << double(told.travelled.length / hp::day) << " d with the driving that is stated\n";
  } catch (const Stopped&) {
    std::cerr << "stopped\n";
    return 130;
  }
}
