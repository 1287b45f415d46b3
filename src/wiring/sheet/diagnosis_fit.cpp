// SPDX-License-Identifier: Apache-2.0
#include "diagnosis_fit.hpp"

#include <cmath>

namespace housepower::wiring::inside {
namespace {

constexpr double two_pi = 6.283185307179586;
constexpr double largest_step = 1.5;  // of a logarithm
constexpr int most_passes = 20, most_collapses = 4;

}  // namespace

double dot(const Values& x, const Values& y) {
  double sum = 0;
  for (std::size_t i = 0; i < x.size(); ++i) sum += x[i] * y[i];
  return sum;
}

Covariance::Covariance(std::vector<Values> lower_triangle) : l_(std::move(lower_triangle)) {
  for (std::size_t i = 0; i < l_.size(); ++i)
    for (std::size_t j = 0; j <= i; ++j) {
      double sum = l_[i][j];
      for (std::size_t k = 0; k < j; ++k) sum -= l_[i][k] * l_[j][k];
      l_[i][j] = i == j ? std::sqrt(std::max(sum, 1e-300)) : sum / l_[j][j];
      if (i == j) log_det_ += 2.0 * std::log(l_[i][i]);
    }
}

Values Covariance::solved(Values x) const {
  for (std::size_t i = 0; i < x.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k) x[i] -= l_[i][k] * x[k];
    x[i] /= l_[i][i];
  }
  for (std::size_t i = x.size(); i-- > 0;) {
    x[i] /= l_[i][i];
    for (std::size_t k = 0; k < i; ++k) x[k] -= l_[i][k] * x[i];
  }
  return x;
}

Values Covariance::inverse_diagonal() const {
  Values diagonal(l_.size(), 0.0), column(l_.size());
  for (std::size_t j = 0; j < l_.size(); ++j) {  // columns of L⁻¹
    for (std::size_t i = j; i < l_.size(); ++i) {
      double sum = i == j ? 1.0 : 0.0;
      for (std::size_t k = j; k < i; ++k) sum -= l_[i][k] * column[k];
      column[i] = sum / l_[i][i];
      diagonal[j] += column[i] * column[i];
    }
  }
  return diagonal;
}

Widened::Widened(const Covariance& c, std::vector<Values> wide) : c_(c), wide_(std::move(wide)) {
  std::vector<Values> inner;
  for (std::size_t i = 0; i < wide_.size(); ++i) {
    solved_.push_back(c.solved(wide_[i]));
    Values& row = inner.emplace_back();
    for (std::size_t j = 0; j <= i; ++j)
      row.push_back(dot(wide_[j], solved_[i]) + (i == j ? 1.0 : 0.0));
  }
  inner_ = Covariance(std::move(inner));
}

Values Widened::solved(const Values& x) const {
  Values y = c_.solved(x);
  Values along;
  for (const Values& u : wide_) along.push_back(dot(u, y));
  along = inner_.solved(std::move(along));
  for (std::size_t i = 0; i < wide_.size(); ++i)
    for (std::size_t n = 0; n < y.size(); ++n) y[n] -= along[i] * solved_[i][n];
  return y;
}

Fitting::Fitting(std::vector<CaseModel>& cases, std::vector<Unknown> sound, std::vector<Row> rows)
    : cases_(cases), sound_(std::move(sound)), rows_(std::move(rows)) {}

std::vector<Unknown> Fitting::all_of(const Hypothesis& h) const {
  std::vector<Unknown> all = sound_;
  all.insert(all.end(), h.added.begin(), h.added.end());
  return all;
}

Values Fitting::start_of(const Hypothesis& h) const {
  Values values;
  for (const Unknown& u : sound_) values.push_back(u.mean);
  values.insert(values.end(), h.start.begin(), h.start.end());
  return values;
}

std::optional<Values> Fitting::predicted(const Hypothesis& h, const Values& values) {
  const auto all = all_of(h);
  Values y(rows_.size());
  for (std::size_t c = 0; c < cases_.size(); ++c) {
    const auto point = cases_[c].solve(all, values, c);
    if (!point) return std::nullopt;
    for (std::size_t i = 0; i < rows_.size(); ++i)
      if (rows_[i].of_case == c) y[i] = cases_[c].read(rows_[i].spot, *point);
  }
  return y;
}

std::optional<std::vector<Values>> Fitting::columns(const Hypothesis& h, const Values& values,
                                                    const std::vector<Unknown>& by) {
  const auto all = all_of(h);
  std::vector<Values> rows(rows_.size());
  for (std::size_t c = 0; c < cases_.size(); ++c) {
    const auto point = cases_[c].solve(all, values, c);
    if (!point) return std::nullopt;
    std::vector<Spot> spots;
    for (const Row& row : rows_)
      if (row.of_case == c) spots.push_back(row.spot);
    auto found = cases_[c].derivatives(spots, by, Values(by.size(), 0.0), *point, c);
    std::size_t next = 0;
    for (std::size_t i = 0; i < rows_.size(); ++i)
      if (rows_[i].of_case == c) rows[i] = std::move(found[next++]);
  }
  return rows;
}

std::optional<Linear> Fitting::linearised(const Hypothesis& h, const Values& values) {
  auto rows = columns(h, values, all_of(h));
  if (!rows) return std::nullopt;
  Linear linear;
  for (std::size_t k = 0; k < h.added.size(); ++k) {
    const double scale = h.added[k].is == Unknown::Is::extra  // per logarithm, not per ohm
                             ? std::exp(values[sound_.size() + k])
                             : 1.0;
    Values& column = linear.added.emplace_back();
    for (const Values& row : *rows) column.push_back(scale * row[sound_.size() + k]);
  }
  std::vector<Values> lower(rows_.size());
  for (std::size_t i = 0; i < rows_.size(); ++i) {
    (*rows)[i].resize(sound_.size());
    Values weighted = (*rows)[i];
    for (std::size_t n = 0; n < sound_.size(); ++n) weighted[n] *= sound_[n].sd * sound_[n].sd;
    for (std::size_t j = 0; j <= i; ++j) lower[i].push_back(dot(weighted, (*rows)[j]));
    lower[i][i] += rows_[i].sd * rows_[i].sd;
  }
  linear.covariance = Covariance(std::move(lower));
  linear.rows = std::move(*rows);
  return linear;
}

std::optional<Fitted> Fitting::unfitted() {
  Fitted f;
  f.values = start_of({});
  const auto y = predicted({}, f.values);
  if (!y) return std::nullopt;
  for (std::size_t i = 0; i < rows_.size(); ++i)
    f.innovation.push_back(rows_[i].measured - (*y)[i]);
  return f;
}

std::optional<Fitted> Fitting::fit(const Hypothesis& h, const Linear& linear, const Values& from) {
  const std::size_t n = sound_.size(), m = rows_.size(), k = h.added.size();
  Fitted f{h, from, Values(k), 0.0, 0.0, Values(m), linear.added};
  Values sd;
  for (const Row& row : rows_) sd.push_back(row.sd);
  std::vector<Values> wide;
  for (const auto& [reading, open] : h.opened) {
    wide.emplace_back(m, 0.0)[reading] = open;
    sd[reading] = std::hypot(sd[reading], open);
  }
  Values measured;
  for (const Row& row : rows_) measured.push_back(row.measured);
  for (const std::size_t reading : h.reversed) measured[reading] = -measured[reading];
  const std::size_t fixed = wide.size();
  auto y = predicted(h, f.values);
  // Beyond collapse: a smaller fault. To find that nothing solves it is dear, so not often.
  int collapses = 0;
  for (; !y && k > 0 && collapses < most_collapses; ++collapses) {
    f.values.back() -= 0.7;
    y = predicted(h, f.values);
  }
  if (!y) return std::nullopt;
  for (int pass = 0; pass < most_passes; ++pass) {
    if (f.columns.empty() || pass > 0) f.columns.assign(k, Values(m));
    for (std::size_t a = 0; a < k && (pass > 0 || linear.added.empty()); ++a) {
      constexpr double little = 1e-3;
      Values moved = f.values;
      moved[n + a] += little;
      const auto shown = predicted(h, moved);
      if (!shown) return std::nullopt;
      for (std::size_t i = 0; i < m; ++i) f.columns[a][i] = ((*shown)[i] - (*y)[i]) / little;
    }
    wide.resize(fixed);
    for (std::size_t a = 0; a < k; ++a) {
      Values& column = wide.emplace_back(f.columns[a]);
      for (double& x : column) x *= h.added[a].sd;
    }
    const Widened c(linear.covariance, wide);
    Values away(n);  // from the prior
    for (std::size_t i = 0; i < n; ++i) away[i] = f.values[i] - sound_[i].mean;
    for (std::size_t i = 0; i < m; ++i) {
      f.innovation[i] = measured[i] - (*y)[i] + dot(linear.rows[i], away);
      for (std::size_t a = 0; a < k; ++a)
        f.innovation[i] += f.columns[a][i] * (f.values[n + a] - h.added[a].mean);
    }
    const Values w = c.solved(f.innovation);
    double moved = 0;
    Values next(n + k);
    for (std::size_t u = 0; u < n; ++u) {
      double along = 0;
      for (std::size_t i = 0; i < m; ++i) along += linear.rows[i][u] * w[i];
      next[u] = sound_[u].mean + sound_[u].sd * sound_[u].sd * along;
      moved = std::max(moved, std::abs(next[u] - f.values[u]) / sound_[u].sd);
    }
    for (std::size_t a = 0; a < k; ++a) {
      const double s = h.added[a].sd, now = f.values[n + a];
      next[n + a] = std::clamp(h.added[a].mean + s * s * dot(f.columns[a], w), now - largest_step,
                               now + largest_step);
      moved = std::max(moved, 10.0 * std::abs(next[n + a] - now) / s);
    }
    auto shown = predicted(h, next);
    for (; !shown && collapses < most_collapses; ++collapses) {
      for (std::size_t i = 0; i < next.size(); ++i) next[i] = 0.5 * (next[i] + f.values[i]);
      shown = predicted(h, next);
    }
    const bool last = moved < 0.02 || pass + 1 == most_passes || !shown;
    if (shown) {
      f.values = std::move(next);
      y = std::move(shown);
    }
    if (!last) continue;
    f.log_evidence = -0.5 * (c.log_det() + double(m) * std::log(two_pi));
    for (std::size_t a = 0; a < k; ++a) {
      std::vector<Values> others(wide);
      others.erase(others.begin() + std::ptrdiff_t(fixed + a));
      const Values solved = Widened(linear.covariance, others).solved(f.columns[a]);
      const double s = h.added[a].sd;
      f.sd[a] = 1.0 / std::sqrt(1.0 / (s * s) + dot(f.columns[a], solved));
    }
    break;
  }
  for (std::size_t i = 0; i < m; ++i) {
    const double off = (measured[i] - (*y)[i]) / sd[i];
    f.misfit += off * off;
  }
  for (std::size_t u = 0; u < n; ++u) {
    const double off = (f.values[u] - sound_[u].mean) / sound_[u].sd;
    f.misfit += off * off;
  }
  double of_added = 0;
  for (std::size_t a = 0; a < k; ++a) {
    const double off = (f.values[n + a] - h.added[a].mean) / h.added[a].sd;
    of_added += off * off;
  }
  f.log_evidence -= 0.5 * (f.misfit + of_added);
  for (std::size_t i = 0; i < m; ++i) {  // what is left for others to explain
    double left = measured[i] - (*y)[i];
    for (std::size_t u = 0; u < n; ++u) left += linear.rows[i][u] * (f.values[u] - sound_[u].mean);
    f.innovation[i] = left;
  }
  return f;
}

}  // namespace housepower::wiring::inside
