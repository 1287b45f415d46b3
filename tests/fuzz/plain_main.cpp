// SPDX-License-Identifier: Apache-2.0
// A fuzz target without the fuzzer: the program as it is shipped, at its own speed, tried with inputs
// that follow from a seed. For inputs whose shape the target knows, and so needs no guide.
//
//   housepower_tries_ask_design -runs=100000 -seed=1 -max_len=64 [CORPUS…]
#include <csignal>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <random>
#include <string>
#include <vector>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

using Bytes = std::vector<std::uint8_t>;

struct Asked {
  std::uint64_t runs = 1000, seed = 1, max_len = 64;
  std::vector<Bytes> corpus;
};

void add(const std::filesystem::path& path, std::vector<Bytes>& corpus) {
  std::ifstream file(path, std::ios::binary);
  corpus.emplace_back(std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>());
}

Asked asked(int count, char** words) {
  Asked of;
  for (int i = 1; i < count; ++i) {
    const std::string word = words[i];
    const auto number = [&](const std::string& name, std::uint64_t& to) {
      if (word.starts_with(name)) to = std::stoull(word.substr(name.size()));
      return word.starts_with(name);
    };
    if (number("-runs=", of.runs) || number("-seed=", of.seed) || number("-max_len=", of.max_len))
      continue;
    if (!std::filesystem::is_directory(word)) add(word, of.corpus);
    else
      for (const auto& entry : std::filesystem::directory_iterator(word))
        add(entry.path(), of.corpus);
  }
  return of;
}

/// Of nothing but chance, or a known input with some bytes changed.
Bytes next(const Asked& of, std::mt19937_64& chance) {
  const auto below = [&](std::uint64_t most) {
    return chance() % std::max<std::uint64_t>(most, 1);
  };
  if (of.corpus.empty() || below(4) == 0) {
    Bytes bytes(1 + below(of.max_len));
    for (auto& b : bytes) b = std::uint8_t(chance());
    return bytes;
  }
  Bytes bytes = of.corpus[below(of.corpus.size())];
  for (auto changes = 1 + below(4); changes > 0 && !bytes.empty(); --changes) {
    const auto at = std::ptrdiff_t(below(bytes.size()));
    switch (below(3)) {
    case 0: bytes[std::size_t(at)] = std::uint8_t(chance()); break;
    case 1: bytes.erase(bytes.begin() + at); break;
    default: bytes.insert(bytes.begin() + at, std::uint8_t(chance()));
    }
  }
  return bytes;
}

Bytes current;

void keep_current(int) {
  std::ofstream file("crash-input", std::ios::binary);
  file.write(reinterpret_cast<const char*>(current.data()), std::ptrdiff_t(current.size()));
  file.close();
  std::cerr << "the input is in crash-input\n";
  std::_Exit(77);
}

}  // namespace

int main(int count, char** words) {
  const Asked of = asked(count, words);
  for (const int signal : {SIGABRT, SIGSEGV, SIGFPE}) std::signal(signal, keep_current);
  std::mt19937_64 chance(of.seed);
  for (const auto& known : of.corpus) {
    current = known;
    LLVMFuzzerTestOneInput(current.data(), current.size());
  }
  for (std::uint64_t i = 0; i < of.runs; ++i) {
    current = next(of, chance);
    LLVMFuzzerTestOneInput(current.data(), current.size());
  }
  std::cout << of.corpus.size() + of.runs << " runs\n";
}
