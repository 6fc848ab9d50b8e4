/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>
#include "base/quantity.h"
#include "measure/instrument.h"
#include "measure/lash.h"
#include "measure/reading.h"
#include "measure/repeats.h"
#include "measure/stated.h"

G_BEGIN_DECLS

/* How readings are weighed. */
typedef enum
{
  TRAMMEL_SCATTER_STATED,    /* each reading's u is believed; normal distribution; Birge ratio when χ² disagrees */
  TRAMMEL_SCATTER_ESTIMATED, /* classical regression: σ² from the residuals, Student's t; no default stated values */
} TrammelScatter;

/* u of a reading that has neither its own nor an instrument's: 0.05 mm (degrees). Common practice, no source. */
#define TRAMMEL_DEFAULT_U 0.05
#define TRAMMEL_MAX_PARAMETERS 500
/* Of a stated unknown about which less than this was learned the readings say next to nothing. Common practice, no
 * source. */
#define TRAMMEL_LEAST_LEARNED 0.05

/**
 * TrammelAdjustmentInput:
 *
 * Everything is borrowed for the call only. Readings that are not complete are skipped (and counted); those of a kind
 * that is not fitted are passed over.
 */
typedef struct
{
  const char *axes; /* letters of the machine's axes: "XYZE" */
  const TrammelReading *readings;
  gsize n_readings;
  const TrammelInstrument *instruments;
  gsize n_instruments;
  TrammelThermal part;         /* of the printed part, for readings of printed sizes */
  const TrammelStated *stated; /* explicit ones; a later one of the same name wins */
  gsize n_stated;
  TrammelScatter scatter;
  gboolean robust; /* bisquare, tuning constant 4.685 */
  /* For the sentences of warnings: the axes of those that are rotary, whose readings are in degrees (NULL: none), and
   * the unit in which lengths are told (NULL: mm). */
  const char *rotary;
  const TrammelUnit *unit;
} TrammelAdjustmentInput;

/* One unknown. */
typedef struct
{
  char *name;
  TrammelParameterKind kind;
  char axes[2];
  double value;
  double u;         /* standard */
  double low, high; /* 95 % interval */
  gboolean has_stated;
  double stated_value, stated_u; /* the observation that entered (default or explicit) */
  gboolean stated_is_default;
  /* 1 − (u/stated_u)²; 1 for scale and datum; 0 when fixed. Below 0 where a Birge ratio makes u greater than what was
   * stated. */
  double learned;
} TrammelParameter;

/* What became of one reading of the input. */
typedef struct
{
  double u;         /* as used in weighing (stated), mm, resolution included; 1 or the relative u in `estimated` */
  double predicted; /* mm; NaN for a reading that took no part */
  double residual;  /* measured − predicted */
  double standardized;
  double weight; /* robust weight 0…1; 1 in a plain fit */
  gboolean suspect;
} TrammelFitted;

/* One axis that has a scale. */
typedef struct
{
  char letter;
  double scale_error, u, low, high; /* e: the machine moves (1+e) times what is commanded; 95 % interval */
  gboolean significant;             /* the interval excludes 0 */
} TrammelAxisScale;

typedef struct _TrammelAdjustment TrammelAdjustment;

/**
 * trammel_adjustment_new:
 *
 * Fits the exact nonlinear model of printed sizes, travel and positions to the readings by weighted least squares:
 * Gauss–Newton with analytic derivatives from the linear start; every step an orthogonal (QR, then SVD of the small
 * triangle) solution of the whitened rows, the readings taken in blocks, so that memory beyond input and the
 * TrammelFitted array does not grow with n. A pure function, callable from any thread.
 *
 * Instruments: resolution/√12 of a reading's instrument is added in quadrature to its u, own or the instrument's (GUM,
 * F.2.2.1). The scale of an instrument with a `scale_u` is one more unknown, `instrument.NAME`, stated as 0 ± scale_u:
 * what the instrument shows is 1 + that times the length. Temperatures: a reading is corrected to 20 °C (ISO 1) by
 * 1 + α(t − 20) of the instrument, less the same of the part where a printed size is read; as a prediction here, what
 * is shown is divided by that. A travel or a position is taken with the machine as warm as it was. Temperatures and
 * expansions are taken as known.
 *
 * Sources: JCGM 100:2008 (GUM) for u and intervals; N. R. Draper & H. Smith, Applied Regression Analysis, 3rd ed.
 * (Wiley, 1998), for residuals, leverage and externally studentized residuals; R. T. Birge, Phys. Rev. 40 (1932) 207,
 * for the ratio; A. E. Beaton & J. W. Tukey, Technometrics 16 (1974) 147, for the bisquare.
 *
 * Returns: (transfer full) (nullable): the adjustment. Errors: TRAMMEL_ERROR_DATA naming the reading ("readings[3]:
 * …": no such axis, …, or no complete reading at all), _UNSEPARABLE naming the unknowns, _TOO_LARGE (more than
 * TRAMMEL_MAX_PARAMETERS unknowns), G_IO_ERROR_CANCELLED.
 */
TrammelAdjustment *trammel_adjustment_new (const TrammelAdjustmentInput *input, GCancellable *cancellable,
                                           GError **error);
TrammelAdjustment *trammel_adjustment_ref (const TrammelAdjustment *adjustment);
void trammel_adjustment_unref (TrammelAdjustment *adjustment);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelAdjustment, trammel_adjustment_unref)

/* Scales first (in the order of the machine's axes), then skew, shrink, bead, foot, lash, instruments, datum. Borrowed.
 */
const TrammelParameter *trammel_adjustment_parameters (const TrammelAdjustment *adjustment, gsize *n);
const TrammelParameter *trammel_adjustment_parameter (const TrammelAdjustment *adjustment, const char *name);
/* The lash of an axis; NULL where the readings say next to nothing about it. Borrowed. */
const TrammelParameter *trammel_adjustment_learned_lash (const TrammelAdjustment *adjustment, char letter);
/* n×n covariance of the parameters' values, row by row, in their order (Birge factor and σ² included). */
const double *trammel_adjustment_covariance (const TrammelAdjustment *adjustment);
const TrammelAxisScale *trammel_adjustment_axis (const TrammelAdjustment *adjustment, char letter); /* NULL: no scale */
/* As many as there were readings in the input, same order. */
const TrammelFitted *trammel_adjustment_fitted (const TrammelAdjustment *adjustment, gsize *n);

TrammelScatter trammel_adjustment_scatter (const TrammelAdjustment *adjustment);
gboolean trammel_adjustment_is_robust (const TrammelAdjustment *adjustment);
gsize trammel_adjustment_n_used (const TrammelAdjustment *adjustment);    /* readings that took part */
gsize trammel_adjustment_n_skipped (const TrammelAdjustment *adjustment); /* not complete */
gint64 trammel_adjustment_dof (const TrammelAdjustment *adjustment);      /* readings + stated values − parameters */
/* Estimated: the (weighted) residual sum of squares of the readings. Robust: with the robust weights. */
double trammel_adjustment_chi2 (const TrammelAdjustment *adjustment);
double trammel_adjustment_p_value (const TrammelAdjustment *adjustment); /* NaN when dof is 0, or estimated */
/* Factor on every u; 1 when none. Robust and stated: the scale of the residuals, where that is more than 1. */
double trammel_adjustment_birge (const TrammelAdjustment *adjustment);
/* Residual standard deviation (estimated), mm; robust: from the median absolute residual; NaN in `stated`. */
double trammel_adjustment_sigma (const TrammelAdjustment *adjustment);
/* Pure error and lack of fit; NULL when nothing was read more than once, in a robust fit,
 * and beyond TRAMMEL_REPEATS_MOST_READINGS. Borrowed. */
const TrammelRepeats *trammel_adjustment_repeats (const TrammelAdjustment *adjustment);
/* For every axis whose lash was found in more than one way, whether these agree. Borrowed; NULL and 0 when there is no
 * such axis. */
const TrammelLashAgreement *trammel_adjustment_lash (const TrammelAdjustment *adjustment, gsize *n);
/* Half-width of a 95 % interval in units of u: 1.96, or Student's t. */
double trammel_adjustment_coverage_factor (const TrammelAdjustment *adjustment);
/* NULL-terminated, translated sentences: what could not be told apart and which further reading would tell it,
 * readings that disagree with their u or, where they are repeated, with the model, suspects, skipped rows. */
const char *const *trammel_adjustment_warnings (const TrammelAdjustment *adjustment);

/* What the model predicts for @reading (any complete or still unmeasured row with kind, along, nominal), with the
 * standard uncertainty of that prediction; NaN where it touches an unknown that the fit does not have. mm. */
double trammel_adjustment_predict (const TrammelAdjustment *adjustment, const TrammelReading *reading, double *u);
/* The same with scale errors, skew and lash taken out: what the corrected machine would give. */
double trammel_adjustment_predict_corrected (const TrammelAdjustment *adjustment, const TrammelReading *reading);

G_END_DECLS
