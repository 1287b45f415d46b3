// SPDX-License-Identifier: Apache-2.0
#include "html_style.hpp"

#include <fmt/format.h>

namespace housepower::page {
namespace {

/// A text as a string of CSS: all but plain letters, figures and blanks by their number, so that
/// none ends it.
std::string css_string(std::string_view text) {
  std::string out = "\"";
  std::size_t i = 0;
  while (i < text.size()) {
    const auto first = static_cast<unsigned char>(text[i]);
    const bool plain = (first >= 'a' && first <= 'z') || (first >= 'A' && first <= 'Z') ||
                       (first >= '0' && first <= '9') || first == ' ';
    const std::size_t length = first < 0x80 ? 1 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
    if (plain) out += text[i];
    else if (i + length <= text.size()) {
      unsigned code = length == 1 ? first : first & (0xFFu >> (length + 1));
      for (std::size_t k = 1; k < length; ++k)
        code = code << 6 | (static_cast<unsigned char>(text[i + k]) & 0x3Fu);
      out += fmt::format("\\{:06x} ", code);
    }
    i += length;
  }
  return out + "\"";
}

}  // namespace

std::string paper_foot(std::string_view upper, std::string_view lower) {
  return "@page{@bottom-left{content:" + css_string(upper) + " \"\\a \" " + css_string(lower) +
         "}}";
}

std::string_view page_style() {
  return R"(
:root{--rule:#c9c9c9;--soft:#f4f4f2;--link:#0b5394;color-scheme:light dark}
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%;text-size-adjust:100%;scroll-padding-top:1rem}
body{margin:0;color:var(--hp-ink,#111);background:var(--hp-paper,#fff);
 font:1rem/1.5 "Helvetica Neue",Helvetica,Arial,"Liberation Sans",sans-serif;
 font-variant-numeric:tabular-nums;overflow-wrap:break-word}
main,header,footer,nav{max-width:70rem;margin:0 auto;padding:0 1.25rem}
header{padding-top:1.5rem}
h1{font-size:1.75rem;line-height:1.2;margin:0 0 .35rem}
h2{font-size:1.3rem;line-height:1.25;margin:2.75rem 0 .75rem;padding-top:.6rem;
 border-top:2px solid currentColor}
h3,.finding h2{font-size:1rem;margin:0 0 .2rem;padding:0;border:0;font-weight:600}
p{margin:.5rem 0;max-width:46rem}
a{color:var(--link)}
a:focus-visible,summary:focus-visible,[tabindex]:focus-visible{outline:3px solid var(--link);
 outline-offset:2px}
.small{font-size:.85rem;max-width:none;color:var(--hp-quiet,#555)}
.quiet,.made,footer{color:var(--hp-quiet,#555)}
.made{margin:0 0 1rem}
.skip{position:absolute;left:-99rem}
.skip:focus{left:1rem;top:.5rem;background:var(--hp-paper,#fff);padding:.25rem .75rem}
nav ul{list-style:none;margin:1rem 0;padding:0;display:flex;flex-wrap:wrap;gap:.25rem 1.25rem}
nav a{display:inline-block;padding:.2rem 0}
.verdict{display:flex;flex-wrap:wrap;gap:.15rem .9rem;align-items:baseline;margin:1rem 0;
 padding:.7rem 1rem;max-width:none;border:1px solid currentColor}
.verdict b{font-size:1.3rem;text-transform:uppercase;letter-spacing:.04em}
.verdict.fail,.finding.fail{border-left:.6rem double currentColor}
.verdict.caution,.finding.caution{border-left:.45rem dashed currentColor}
.verdict.not-checked,.finding.not-checked{border-left:.45rem dotted currentColor}
.verdict.pass,.finding.pass{border-left:.3rem solid currentColor}
.fail>b,.fail .word,.verdict.fail{color:var(--hp-alarm,#b00020)}
.caution>b,.caution .word,.verdict.caution{color:var(--hp-second,#a04000)}
.verdict span{color:var(--hp-ink,#111)}
.facts{display:grid;grid-template-columns:repeat(auto-fill,minmax(9rem,1fr));gap:0 1.5rem;
 margin:1rem 0}
.facts div{border-top:1px solid var(--rule);padding:.45rem 0 .6rem}
.facts dt{font-size:.85rem;color:var(--hp-quiet,#555)}
.facts dd{margin:0}
.facts .value{font-size:1.35rem;line-height:1.3}
.finding{border:1px solid var(--rule);padding:.6rem .9rem;margin:.75rem 0}
.finding p{margin:.25rem 0;max-width:none}
.finding .subject{font-weight:400}
.word{text-transform:uppercase;letter-spacing:.04em}
.cure{font-weight:600}
.source,.step span,caption{font-size:.9rem}
.source,.step span{color:var(--hp-quiet,#555)}
details{margin:.5rem 0}
summary{cursor:pointer;padding:.2rem 0}
details details{margin:.25rem 0 .25rem 1rem}
.working{list-style:none;margin:.25rem 0 .5rem;padding:0 0 0 .9rem;border-left:1px solid var(--rule)}
.step{margin:.25rem 0}
.step span{display:block}
.table{margin:1.25rem 0;overflow-x:auto}
table{border-collapse:collapse;min-width:20rem;font-size:.92rem}
caption{text-align:left;font-weight:600;padding:0 0 .35rem}
th,td{padding:.28rem .9rem .28rem 0;text-align:left;vertical-align:top;border-bottom:1px solid
 var(--rule);font-weight:400;max-width:26rem}
thead th{font-weight:600;border-bottom:1.5px solid currentColor;vertical-align:bottom;
 line-height:1.25}
.n{text-align:right;white-space:nowrap}
thead .n{white-space:normal}
.tick{display:inline-block;width:1.1em;height:1.1em;border:1.3px solid currentColor;
 vertical-align:-.15em}
.entry{display:inline-block;min-width:5.5em;height:1.2em;border-bottom:1.3px solid currentColor}
.tables{display:flex;flex-wrap:wrap;gap:0 3rem;align-items:flex-start}
.tables .table{max-width:100%}
.figures{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,28rem),1fr));
 gap:0 3rem;align-items:start}
.figure{margin:1.5rem 0;min-width:0}
.figure figcaption{font-weight:600;margin-bottom:.25rem}
.figure figcaption span{display:block;font-weight:400;font-size:.92rem;max-width:46rem;
 color:var(--hp-quiet,#555)}
.drawing{overflow-x:auto}
.drawing svg{display:block;width:100%;max-width:36rem;height:auto}
.sheet .drawing svg{max-width:none;min-width:62rem}
footer{margin-top:3rem;padding-bottom:2rem;font-size:.9rem}
footer p{border-top:2px solid currentColor;padding-top:.6rem;max-width:none}
@media screen and (prefers-color-scheme:dark){:root{--rule:#45484d;--soft:#202327;--link:#7fb8f0}}
@media screen and (max-width:28rem){main,header,footer,nav{padding-left:.9rem;padding-right:.9rem}
 h1{font-size:1.4rem}h2{font-size:1.15rem;margin-top:2rem}.finding{padding:.5rem .6rem}}
@page{margin:10mm 14mm 16mm;@bottom-left{font:7pt/1.25 Helvetica,Arial,sans-serif;color:#333;
 white-space:pre-wrap;width:88%;vertical-align:top;padding-top:2mm}
 @bottom-right{content:counter(page) " / " counter(pages);font:7.5pt Helvetica,Arial,sans-serif;
 color:#333;vertical-align:top;padding-top:3mm}}
@page A4{size:landscape;margin:10mm 10mm 18mm}
@page A3{size:A3 landscape;margin:10mm 10mm 18mm}
@media print{:root{color-scheme:light;font-size:8.6pt}body{line-height:1.32}
 main,header,footer{max-width:none;padding:0}nav,.skip{display:none}
 h1{font-size:15pt;margin-bottom:0}.made{display:none}h2{font-size:12pt;margin:2.2mm 0 1mm;padding-top:1.1mm;break-after:avoid}h3,summary{break-after:avoid}
 header{padding:0}.verdict,.facts{margin:1.2mm 0}.facts{grid-template-columns:repeat(auto-fit,minmax(7.4rem,1fr));
 gap:0 3.5mm}.facts div{padding:1mm 0 1.5mm}.facts dt{font-size:7pt}.facts .value{font-size:10pt}
 table{font-size:8pt}.small{font-size:6.5pt;line-height:1.25}.table{margin:1.6mm 0}th,td{padding:.4mm 3mm .5mm 0;max-width:34rem}thead{display:table-header-group}
 tr,.finding>p,.figure,.verdict,.facts div,.step{break-inside:avoid}
 .tables{display:block}.table.short{display:inline-block;vertical-align:top;margin-right:6mm}.table.long{columns:2;column-gap:8mm;width:100%}.table.long table,.table.form table{width:100%}.table.form{display:block;margin-right:0}
 .tables:has(>.lines){display:flex;flex-wrap:wrap;gap:0 6mm}.tables>.table.lines{flex:1 1 50%;margin-right:0}.lines td{max-width:none}
 .new-sheet{break-before:page}.new-sheet>h2{margin-top:0}footer p{break-inside:avoid}.figures{grid-template-columns:1fr 1fr;gap:0 6mm}.figure{margin:1mm 0}.figures svg{max-width:82mm}
 details:not([open]),details.screen{display:none}p{margin:1mm 0;max-width:none}.small{margin:1mm 0}
 footer{display:none}.figure figcaption span{font-size:7.8pt;line-height:1.25}
 .table,.drawing{overflow:visible}.entry{height:1.6em}caption,thead{break-after:avoid}
 tbody tr:first-child{break-before:avoid}
 .sheet{break-before:page;break-after:page;margin:0}.sheet .drawing svg{min-width:0;
 max-height:160mm}.sheet.A3 .drawing svg{max-height:245mm}
 .sheet.A4{page:A4}.sheet.A3{page:A3}a{color:inherit;text-decoration:none}}
)";
}

}  // namespace housepower::page
