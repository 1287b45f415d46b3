// SPDX-License-Identifier: Apache-2.0
// The test runner: doctest's own main. Every other file under tests/ holds only test cases.
#define DOCTEST_CONFIG_IMPLEMENT_WITH_MAIN
#include <doctest/doctest.h>
