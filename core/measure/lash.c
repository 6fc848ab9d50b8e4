/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/lash-private.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <string.h>

#include "base/error.h"

#define SIGNIFICANCE 0.05
#define TAIL 0.025
/* How much a column must take part in what cannot be told apart to be one of those. */
#define NOTABLE 1e-6
/* Below this part of what was measured all scatter is rounding. */
#define ROUNDING 1e-12

static const struct
{
  const char *key, *label;
} names[TRAMMEL_N_LASH_SOURCES] = {
  [TRAMMEL_LASH_FROM_POSITIONS] = { "positions", N_ ("positions") },
  [TRAMMEL_LASH_FROM_TRAVEL] = { "travel", N_ ("reversed travel") },
  [TRAMMEL_LASH_FROM_REVERSALS] = { "reversals", N_ ("reversals") },
};

const char *
trammel_lash_source_key (TrammelLashSource source)
{
  g_return_val_if_fail ((guint)source < TRAMMEL_N_LASH_SOURCES, NULL);

  return names[source].key;
}

const char *
trammel_lash_source_label (TrammelLashSource source)
{
  g_return_val_if_fail ((guint)source < TRAMMEL_N_LASH_SOURCES, NULL);

  return _ (names[source].label);
}

int
trammel_lash_source_of (const TrammelReading *reading)
{
  switch ((TrammelReadingKind)reading->kind)
    {
    case TRAMMEL_READING_POSITION:
      return reading->approach != TRAMMEL_APPROACH_NONE ? TRAMMEL_LASH_FROM_POSITIONS : -1;
    case TRAMMEL_READING_TRAVEL:
      return reading->approach == TRAMMEL_APPROACH_REVERSED ? TRAMMEL_LASH_FROM_TRAVEL : -1;
    case TRAMMEL_READING_REVERSAL:
      return TRAMMEL_LASH_FROM_REVERSALS;
    case TRAMMEL_READING_OUTSIDE:
    case TRAMMEL_READING_INSIDE:
    case TRAMMEL_READING_CENTER:
    case TRAMMEL_READING_HEIGHT:
    case TRAMMEL_READING_HOME:
    default:
      return -1;
    }
}

static guint
count_sources (guint8 sources)
{
  guint n = 0;

  for (int source = 0; source < TRAMMEL_N_LASH_SOURCES; source++)
    n += (sources >> source) & 1;
  return n;
}

/* Bit per letter of an axis whose lash has two sources or more. */
static guint32
axes_to_compare (const TrammelUnknowns *unknowns)
{
  guint32 axes = 0;

  for (int letter = 0; letter < TRAMMEL_N_LETTERS; letter++)
    if (count_sources (unknowns->lash_sources[letter]) >= 2)
      axes |= 1u << letter;
  return axes;
}

/* Of the split lashes, those that took part in what the fit could not tell apart are marked. FALSE: none more. */
static gboolean
mark_untold (const TrammelFit *split, guint8 untold[TRAMMEL_N_LETTERS])
{
  gboolean marked = FALSE;

  for (int letter = 0; letter < TRAMMEL_N_LETTERS; letter++)
    for (int source = 0; source < TRAMMEL_N_LASH_SOURCES; source++)
      {
        const int parameter = split->unknowns.lash[letter][source];
        const int column = parameter >= 0 ? split->column_of_parameter[parameter] : -1;
        const guint8 bit = (guint8)(1u << source);
        if (!(split->unknowns.split_lash & 1u << letter) || column < 0 || untold[letter] & bit
            || !(split->involved[column] > NOTABLE))
          continue;
        untold[letter] |= bit;
        marked = TRUE;
      }
  return marked;
}

/* The fit of @fit's readings with a lash per source along @axes. FALSE with @error NULL: these cannot be told, or too
 * little is left to estimate scatter from. */
static gboolean
solve_split (const TrammelFit *fit, guint32 axes, TrammelFit *split, GError **error)
{
  guint8 untold[TRAMMEL_N_LETTERS] = { 0 };

  for (;;)
    {
      g_autoptr (GError) local = NULL;

      trammel_fit_init (split, fit->input, fit->cancellable);
      split->unknowns.split_lash = axes;
      memcpy (split->unknowns.untold_lash, untold, sizeof untold);
      if (trammel_fit_take_rows (split, &local) && trammel_fit_solve (split, &local)
          && (!fit->input->robust || trammel_fit_solve_robust (split, &local)))
        return TRUE;
      if (g_error_matches (local, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        {
          g_propagate_error (error, g_steal_pointer (&local));
          return FALSE;
        }
      if (!g_error_matches (local, TRAMMEL_ERROR, TRAMMEL_ERROR_UNSEPARABLE) || !mark_untold (split, untold))
        return FALSE;
      trammel_fit_clear (split);
    }
}

/* How the covariance of the split fit is to be read. */
typedef struct
{
  double spread;  /* to be multiplied by, as a standard deviation */
  double freedom; /* of it; infinite: it is believed */
} Scale;

static Scale
scale_of (const TrammelFit *split)
{
  const double least = ROUNDING * trammel_fit_measured_length (split);

  if (split->input->scatter == TRAMMEL_SCATTER_ESTIMATED)
    return (Scale){ MAX (split->spread, least), split->freedom };
  if (split->input->robust)
    return split->spread > 1 ? (Scale){ split->spread, split->freedom } : (Scale){ 1, INFINITY };

  const double chi2 = split->rss + split->stated_rss;
  if (split->freedom >= 1 && gsl_cdf_chisq_Q (chi2, split->freedom) < SIGNIFICANCE)
    return (Scale){ sqrt (chi2 / split->freedom), split->freedom };
  return (Scale){ 1, INFINITY };
}

static double
p_of (double q, double dof, const Scale *scale)
{
  if (!isfinite (scale->freedom))
    return gsl_cdf_chisq_Q (q, dof);
  return gsl_cdf_fdist_Q (q / dof, dof, scale->freedom);
}

/* dᵀ D⁻¹ d of the differences from the first of @n values whose columns are given; NaN when D has no inverse. */
static double
contrast (const TrammelFit *split, const int *columns, guint n)
{
  double covariance[(TRAMMEL_N_LASH_SOURCES - 1) * (TRAMMEL_N_LASH_SOURCES - 1)];
  double difference[TRAMMEL_N_LASH_SOURCES - 1], solved[TRAMMEL_N_LASH_SOURCES - 1];
  const double *c = split->covariance;
  const gsize width = split->n_columns, first = (gsize)columns[0], m = n - 1;
  double sum = 0;

  for (gsize i = 0; i < m; i++)
    {
      const gsize a = (gsize)columns[i + 1];
      difference[i] = split->values[split->parameter_of_column[a]] - split->values[split->parameter_of_column[first]];
      for (gsize j = 0; j < m; j++)
        {
          const gsize b = (gsize)columns[j + 1];
          covariance[i * m + j]
              = c[a * width + b] - c[a * width + first] - c[first * width + b] + c[first * width + first];
        }
    }
  gsl_matrix_view matrix = gsl_matrix_view_array (covariance, m, m);
  gsl_vector_view right = gsl_vector_view_array (difference, m), left = gsl_vector_view_array (solved, m);
  if (gsl_linalg_cholesky_decomp1 (&matrix.matrix) != GSL_SUCCESS
      || gsl_linalg_cholesky_solve (&matrix.matrix, &right.vector, &left.vector) != GSL_SUCCESS)
    return NAN;
  for (gsize i = 0; i < m; i++)
    sum += difference[i] * solved[i];
  return sum;
}

static void
take_source (const TrammelFit *split, const Scale *scale, int column, TrammelSourceLash *lash)
{
  lash->value = split->values[split->parameter_of_column[column]];
  lash->u = scale->spread * sqrt (split->covariance[(gsize)column * split->n_columns + (gsize)column]);
}

/* @split NULL: nothing could be told. */
static void
judge (const TrammelFit *split, TrammelLashAgreement *agreement)
{
  const int letter = agreement->letter - 'A';
  int columns[TRAMMEL_N_LASH_SOURCES];
  guint n_told = 0;

  agreement->p_value = agreement->coverage_factor = NAN;
  agreement->agree = TRUE;
  if (split == NULL)
    return;

  const Scale scale = scale_of (split);
  agreement->coverage_factor
      = isfinite (scale.freedom) ? gsl_cdf_tdist_Qinv (TAIL, scale.freedom) : gsl_cdf_ugaussian_Qinv (TAIL);
  for (guint i = 0; i < agreement->n; i++)
    {
      TrammelSourceLash *lash = &agreement->sources[i];
      if (split->unknowns.untold_lash[letter] >> lash->source & 1)
        continue;
      columns[n_told] = split->column_of_parameter[split->unknowns.lash[letter][lash->source]];
      take_source (split, &scale, columns[n_told++], lash);
    }
  if (n_told < 2)
    return;
  const double q = contrast (split, columns, n_told) / (scale.spread * scale.spread);
  agreement->p_value = p_of (q, n_told - 1, &scale);
  agreement->agree = !(agreement->p_value < TRAMMEL_LASH_SIGNIFICANCE);
}

static void
count_readings (const TrammelFit *fit, gsize counts[TRAMMEL_N_LETTERS][TRAMMEL_N_LASH_SOURCES])
{
  for (gsize i = 0; i < fit->input->n_readings; i++)
    {
      const TrammelReading *reading = &fit->input->readings[i];
      const int source = trammel_fit_row_takes_part (&fit->fitted[i]) ? trammel_lash_source_of (reading) : -1;
      if (source >= 0)
        counts[reading->along.axes[0] - 'A'][source]++;
    }
}

static GArray *
judge_axes (const TrammelFit *fit, guint32 axes, const TrammelFit *split)
{
  GArray *agreements = g_array_new (FALSE, FALSE, sizeof (TrammelLashAgreement));
  gsize counts[TRAMMEL_N_LETTERS][TRAMMEL_N_LASH_SOURCES] = { { 0 } };

  count_readings (fit, counts);
  for (const char *letter = fit->input->axes; *letter != '\0'; letter++)
    {
      TrammelLashAgreement agreement = { .letter = *letter };
      if (!g_ascii_isupper (*letter) || !(axes & 1u << (*letter - 'A')))
        continue;
      for (int source = 0; source < TRAMMEL_N_LASH_SOURCES; source++)
        if (counts[*letter - 'A'][source] > 0)
          agreement.sources[agreement.n++]
              = (TrammelSourceLash){ (TrammelLashSource)source, counts[*letter - 'A'][source], NAN, NAN };
      judge (split, &agreement);
      g_array_append_val (agreements, agreement);
    }
  return agreements;
}

gboolean
trammel_lash_compare (const TrammelFit *fit, GArray **out, GError **error)
{
  const guint32 axes = axes_to_compare (&fit->unknowns);
  g_autoptr (GError) local = NULL;
  TrammelFit split;

  *out = NULL;
  if (axes == 0)
    return TRUE;
  const gboolean solved = solve_split (fit, axes, &split, &local);
  if (local == NULL)
    *out = judge_axes (fit, axes, solved ? &split : NULL);
  trammel_fit_clear (&split);
  if (local != NULL)
    g_propagate_error (error, g_steal_pointer (&local));
  return *out != NULL;
}
