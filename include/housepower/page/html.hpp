// SPDX-License-Identifier: Apache-2.0
// A Page as one HTML file that is complete in itself: no script, no font, no picture from elsewhere,
// and a policy that forbids them. It reads on a phone and prints on A4 and Letter.
#pragma once

#include <string>

#include "housepower/page/page.hpp"

namespace housepower::page {

/// What stands about the page.
struct HtmlFrame {
  std::string subject;    // in the footer of each sheet of paper: the design
  std::string date;       // as the reader is to see it; may be empty
  std::string digest;     // of the inputs, beside the version; may be empty
  bool unfolded = false;  // nothing is passed over, for paper
};
[[nodiscard]] std::string html(const Page&, const HtmlFrame&);

/// A text in HTML: markup and quotes are shown, names written from right to left keep to themselves.
[[nodiscard]] std::string html_text(std::string_view);

}  // namespace housepower::page
