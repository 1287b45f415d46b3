// SPDX-License-Identifier: Apache-2.0
// The door in the language of C through which JavaScript asks (ask.js). Texts are UTF-8 and end with
// a zero byte.
#include <cstdlib>
#include <cstring>

#include "ask.hpp"

extern "C" {

// The answer is handed back to housepower_free.
char* housepower_ask(const char* request);
void housepower_free(char* answer);

char* housepower_ask(const char* request) {
  const std::string answer = housepower::browser::answer_to(request);
  auto* copy = static_cast<char*>(std::malloc(answer.size() + 1));
  if (copy != nullptr) std::memcpy(copy, answer.c_str(), answer.size() + 1);
  return copy;
}

void housepower_free(char* answer) { std::free(answer); }
}
