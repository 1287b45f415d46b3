// SPDX-License-Identifier: Apache-2.0
// Fits of hypotheses to readings, and their marginal likelihoods. Plain numbers in SI.
//
// With y the readings, h(p) the network, p the unknowns with prior means and variances S, and R the
// variances of the meter, a Gauss-Newton step in the space of the readings is
//   p = p0 + S·Jᵀ·C⁻¹·(y − h(p) + J·(p − p0)),  C = J·S·Jᵀ + R
// and Laplace's marginal likelihood at its end is the exact one of the linear problem: misfits of
// readings and prior, and ln det C.
#pragma once

#include "diagnosis_model.hpp"

namespace housepower::wiring::inside {

/// A symmetric positive matrix as L·Lᵀ.
class Covariance {
public:
  Covariance() = default;
  explicit Covariance(std::vector<Values> lower_triangle);
  [[nodiscard]] Values solved(Values) const;
  [[nodiscard]] double log_det() const { return log_det_; }
  /// Diagonal of the inverse.
  [[nodiscard]] Values inverse_diagonal() const;

private:
  std::vector<Values> l_;
  double log_det_ = 0;
};
[[nodiscard]] double dot(const Values&, const Values&);

/// C and what widens it, columns of unit weight: C⁻¹·x by Woodbury's identity.
class Widened {
public:
  Widened(const Covariance&, std::vector<Values> wide);
  [[nodiscard]] Values solved(const Values&) const;
  [[nodiscard]] double log_det() const { return c_.log_det() + inner_.log_det(); }

private:
  const Covariance& c_;
  std::vector<Values> wide_, solved_{};
  Covariance inner_{};
};

/// A reading with what it is compared with.
struct Row {
  std::size_t of_case;
  Spot spot;
  double measured, sd;
  bool turned = false;  // read below nothing; its amount is what counts
};

/// What is wrong besides the tolerances of sound parts.
struct Hypothesis {
  std::vector<Unknown> added;
  Values start;                                          // of the added
  std::vector<std::pair<std::size_t, double>> opened{};  // readings that say nothing within that
  std::vector<std::size_t> reversed{};                   // readings with their sign turned
};

/// The readings about one set of values.
struct Linear {
  std::vector<Values> rows;   // J, of the sound van's unknowns
  std::vector<Values> added;  // columns of the hypothesis
  Covariance covariance;      // without the added
};

struct Fitted {
  Hypothesis hypothesis;
  Values values;  // of the sound van's unknowns, then of the added
  Values sd;      // of the added
  double log_evidence = 0;
  double misfit = 0;            // of readings and prior: about the number of readings
  Values innovation;            // y − h + J·(p − p0), without what the added explain
  std::vector<Values> columns;  // of the added, at its end
};

class Fitting {
public:
  Fitting(std::vector<CaseModel>& cases, std::vector<Unknown> sound, std::vector<Row> rows);
  [[nodiscard]] const std::vector<Unknown>& sound() const { return sound_; }
  [[nodiscard]] const std::vector<Row>& rows() const { return rows_; }
  [[nodiscard]] std::vector<CaseModel>& cases() { return cases_; }

  [[nodiscard]] Values start_of(const Hypothesis&) const;
  /// Nothing: there is no operating point.
  [[nodiscard]] std::optional<Linear> linearised(const Hypothesis&, const Values&);
  /// Derivatives by other unknowns at the same values; `unit` is their value: an extra of ln 1 Ω.
  [[nodiscard]] std::optional<std::vector<Values>> columns(const Hypothesis&, const Values&,
                                                           const std::vector<Unknown>& by);
  /// A sound van as it is expected, with what the readings are off.
  [[nodiscard]] std::optional<Fitted> unfitted();
  /// From the start of the hypothesis, or from given values, with the derivatives as given.
  [[nodiscard]] std::optional<Fitted> fit(const Hypothesis&, const Linear&, const Values& from);
  /// What the readings would be.
  [[nodiscard]] std::optional<Values> predicted(const Hypothesis&, const Values&);

private:
  [[nodiscard]] std::vector<Unknown> all_of(const Hypothesis&) const;

  std::vector<CaseModel>& cases_;
  std::vector<Unknown> sound_;
  std::vector<Row> rows_;
};

}  // namespace housepower::wiring::inside
