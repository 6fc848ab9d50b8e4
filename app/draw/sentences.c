/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "draw/display.h"
#include "draw/lash-sentences.h"
#include "draw/sentences.h"

#define PERCENT 100.0
#define DEGREES (180 / G_PI)

/* Decimals that show @half_width with one digit, or two where the first is a 1. */
static int
decimals_for (double half_width)
{
  int decimals;

  if (!(half_width > 0) || !isfinite (half_width))
    return 4;
  decimals = (int)-floor (log10 (half_width));
  if (half_width * pow (10, decimals) < 2)
    decimals++;
  return CLAMP (decimals, 0, 9);
}

/* "0.42 %", "± 0.03 %": a value and its half-width, rounded alike, each with @unit. The half-width is never shown as
 * nothing, and its text is NULL where there is none. */
typedef struct
{
  char *value; /* without sign */
  char *half_width;
} Amount;

static void
amount_clear (Amount *amount)
{
  g_free (amount->value);
  g_free (amount->half_width);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Amount, amount_clear)

/* @gap: between number and unit; none before a degree sign. */
static Amount
amount_of (double value, double half_width, const char *gap, const char *unit)
{
  int decimals = decimals_for (half_width);
  g_autofree char *number = trammel_display_number (fabs (value), decimals);
  g_autofree char *half = trammel_display_number (half_width, decimals);
  Amount amount = { g_strconcat (number, gap, unit, NULL), NULL };

  if (isfinite (half_width))
    amount.half_width = g_strconcat ("± ", half, gap, unit, NULL);
  else
    amount.half_width = g_strdup (_ ("uncertainty unknown"));
  return amount;
}

static Amount
length_of (const TrammelMachine *machine, double value, double half_width)
{
  const TrammelUnit *unit = trammel_machine_display_unit (machine);
  double factor = trammel_unit_factor (unit);

  return amount_of (value / factor, half_width / factor, " ", trammel_unit_symbol (unit));
}

/* A length, or an angle in degrees along a rotary axis. */
static Amount
travel_of (const TrammelMachine *machine, char letter, double value, double half_width)
{
  int i = trammel_machine_axis_index (machine, letter);

  if (i >= 0 && trammel_axis_kind (trammel_machine_axis (machine, i)) == TRAMMEL_AXIS_ROTARY)
    return amount_of (value, half_width, "", "°");
  return length_of (machine, value, half_width);
}

/* A value that rounds to nothing has no sign. */
static gboolean
shows_a_negative (const Amount *amount, double value)
{
  return value < 0 && strpbrk (amount->value, "123456789") != NULL;
}

static double
half_width_of (double low, double high)
{
  return (high - low) / 2;
}

/* The count's name in the plural. */
static const char *
count_name (const TrammelRecord *motor)
{
  const char *name;

  if (trammel_record_is (motor, "stepper"))
    return _ ("steps");
  name = trammel_record_is (motor, "encoder") ? trammel_record_string (motor, "count_name") : NULL;
  return name && *name ? name : _ ("counts");
}

char *
trammel_sentences_counts_unit (const TrammelAxis *axis)
{
  g_return_val_if_fail (axis != NULL, NULL);

  return g_strdup_printf ("%s/%s", count_name (trammel_train_motor (trammel_axis_train (axis))),
                          trammel_axis_kind (axis) == TRAMMEL_AXIS_ROTARY ? "°" : "mm");
}

static char *
deviation_sentence (TrammelAxisKind kind, const TrammelAxisScale *scale, const Amount *amount)
{
  if (kind == TRAMMEL_AXIS_FEED)
    return scale->scale_error < 0
               ? g_strdup_printf (_ ("%c feeds %s too little (%s)."), scale->letter, amount->value, amount->half_width)
               : g_strdup_printf (_ ("%c feeds %s too much (%s)."), scale->letter, amount->value, amount->half_width);
  if (kind == TRAMMEL_AXIS_ROTARY)
    return scale->scale_error < 0
               ? g_strdup_printf (_ ("%c turns %s short (%s)."), scale->letter, amount->value, amount->half_width)
               : g_strdup_printf (_ ("%c turns %s too far (%s)."), scale->letter, amount->value, amount->half_width);
  return scale->scale_error < 0
             ? g_strdup_printf (_ ("%c moves %s short (%s)."), scale->letter, amount->value, amount->half_width)
             : g_strdup_printf (_ ("%c moves %s too far (%s)."), scale->letter, amount->value, amount->half_width);
}

static Amount
deviation_of (const TrammelAxisScale *scale)
{
  return amount_of (PERCENT * scale->scale_error, PERCENT * half_width_of (scale->low, scale->high), " ", "%");
}

static char *
what_to_set (const TrammelAxis *axis, const TrammelCorrection *correction)
{
  g_autofree char *unit = trammel_sentences_counts_unit (axis);
  g_autofree char *corrected = trammel_display_rounded (correction->corrected, correction->u);
  g_autofree char *now = trammel_display_significant (correction->in_force, 8);

  /* translators: "Set 80.337 steps/mm (now 80)." */
  return g_strdup_printf (_ ("Set %s %s (now %s)."), corrected, unit, now);
}

static char *
what_to_leave (const TrammelAxis *axis, const TrammelCorrection *correction)
{
  g_autofree char *unit = trammel_sentences_counts_unit (axis);
  g_autofree char *now = trammel_display_significant (correction->in_force, 8);

  return g_strdup_printf (_ ("Nothing speaks against %s %s."), now, unit);
}

char *
trammel_sentences_axis (const TrammelMachine *machine, const TrammelAdjustment *adjustment, char letter)
{
  const TrammelAxisScale *scale = trammel_adjustment_axis (adjustment, letter);
  int i = trammel_machine_axis_index (machine, letter);
  const TrammelAxis *axis;
  TrammelCorrection correction;
  g_autofree char *deviation = NULL;
  g_autofree char *advice = NULL;

  if (!scale || i < 0)
    return NULL;
  axis = trammel_machine_axis (machine, i);
  {
    g_auto (Amount) amount = deviation_of (scale);

    if (scale->significant)
      deviation = deviation_sentence (trammel_axis_kind (axis), scale, &amount);
    else
      /* translators: %c is the axis, then a deviation "0.01 %" and its half-width "± 0.03 %" */
      deviation = g_strdup_printf (_ ("%c does what it is told, as far as these readings can tell (off by %s%s, %s)."),
                                   letter, shows_a_negative (&amount, scale->scale_error) ? "\xe2\x88\x92" : "",
                                   amount.value, amount.half_width);
  }
  if (!trammel_machine_correction (machine, adjustment, letter, &correction, NULL))
    return g_steal_pointer (&deviation);
  advice = scale->significant ? what_to_set (axis, &correction) : what_to_leave (axis, &correction);
  return g_strdup_printf ("%s %s", deviation, advice);
}

char *
trammel_sentences_axis_short (const TrammelAdjustment *adjustment, char letter)
{
  const TrammelAxisScale *scale = trammel_adjustment_axis (adjustment, letter);
  g_auto (Amount) amount = { NULL, NULL };

  if (!scale)
    return NULL;
  amount = deviation_of (scale);
  if (scale->significant)
    return g_strdup_printf (scale->scale_error < 0 ? _ ("%s short") : _ ("%s too far"), amount.value);
  return g_strdup_printf (_ ("right within %s"), amount.half_width + strlen ("± "));
}

/* A minus where there is something to be minus: not before "0.00". */
static const char *
sign_of (double value, const Amount *amount)
{
  return value < 0 && strpbrk (amount->value, "123456789") ? "\xe2\x88\x92" : "";
}

static char *
skew_sentence (const TrammelParameter *parameter)
{
  double half = half_width_of (parameter->low, parameter->high) * DEGREES;
  g_auto (Amount) amount = amount_of (parameter->value * DEGREES, half, "", "°");
  char a = parameter->axes[0], b = parameter->axes[1];

  if (parameter->low <= 0 && parameter->high >= 0)
    return g_strdup_printf (_ ("%c and %c stand square, as far as these readings can tell (off by %s, %s)."), a, b,
                            amount.value, amount.half_width);
  return parameter->value > 0 ? g_strdup_printf (_ ("%c and %c stand %s (%s) off square: the angle is more than 90°."),
                                                 a, b, amount.value, amount.half_width)
                              : g_strdup_printf (_ ("%c and %c stand %s (%s) off square: the angle is less than 90°."),
                                                 a, b, amount.value, amount.half_width);
}

static char *
shrink_sentence (const TrammelParameter *parameter)
{
  double half = half_width_of (parameter->low, parameter->high) * PERCENT;
  g_auto (Amount) amount = amount_of (parameter->value * PERCENT, half, " ", "%");

  return parameter->value >= 0
             ? g_strdup_printf (_ ("The material shrinks %s after printing (%s)."), amount.value, amount.half_width)
             : g_strdup_printf (_ ("The material grows %s after printing (%s)."), amount.value, amount.half_width);
}

static char *
instrument_sentence (const TrammelParameter *parameter)
{
  double half = half_width_of (parameter->low, parameter->high) * PERCENT;
  g_auto (Amount) amount = amount_of (parameter->value * PERCENT, half, " ", "%");
  const char *name = strchr (parameter->name, '.') + 1;

  return parameter->value >= 0 ? g_strdup_printf (_ ("The instrument “%s” shows %s too much (%s)."), name, amount.value,
                                                  amount.half_width)
                               : g_strdup_printf (_ ("The instrument “%s” shows %s too little (%s)."), name,
                                                  amount.value, amount.half_width);
}

static char *
bead_sentence (const TrammelMachine *machine, const TrammelParameter *parameter)
{
  g_auto (Amount) amount = length_of (machine, parameter->value, half_width_of (parameter->low, parameter->high));

  return parameter->value >= 0
             ? g_strdup_printf (_ ("The bead adds %s to each face (%s)."), amount.value, amount.half_width)
             : g_strdup_printf (_ ("The bead stays %s inside each face (%s)."), amount.value, amount.half_width);
}

static char *
foot_sentence (const TrammelMachine *machine, const TrammelParameter *parameter)
{
  g_auto (Amount) amount = length_of (machine, parameter->value, half_width_of (parameter->low, parameter->high));

  return parameter->value >= 0
             ? g_strdup_printf (_ ("The first layer adds %s to every height (%s)."), amount.value, amount.half_width)
             : g_strdup_printf (_ ("The first layer takes %s from every height (%s)."), amount.value,
                                amount.half_width);
}

static char *
lash_sentence (const TrammelMachine *machine, const TrammelParameter *parameter)
{
  char letter = parameter->axes[0];
  g_auto (Amount) amount
      = travel_of (machine, letter, parameter->value, half_width_of (parameter->low, parameter->high));

  if (parameter->high < 0)
    return g_strdup_printf (_ ("%c seems to gain %s on every reversal (%s), which play cannot do: see whether the "
                               "approach of some readings is the wrong way round."),
                            letter, amount.value, amount.half_width);
  if (parameter->low <= 0)
    return g_strdup_printf (_ ("%c loses nothing on reversal that these readings could tell (%s%s, %s)."), letter,
                            sign_of (parameter->value, &amount), amount.value, amount.half_width);
  return g_strdup_printf (_ ("%c loses %s on every reversal (%s)."), letter, amount.value, amount.half_width);
}

static char *
datum_sentence (const TrammelMachine *machine, const TrammelParameter *parameter)
{
  char letter = parameter->axes[0];
  const char *set = strlen (parameter->name) > strlen ("datum.X.") ? parameter->name + strlen ("datum.X.") : NULL;
  g_auto (Amount) amount
      = travel_of (machine, letter, parameter->value, half_width_of (parameter->low, parameter->high));
  const char *sign = sign_of (parameter->value, &amount);

  if (set)
    return g_strdup_printf (_ ("In set “%s” the zero of %c was read at %s%s (%s)."), set, letter, sign, amount.value,
                            amount.half_width);
  return g_strdup_printf (_ ("The zero of %c was read at %s%s (%s)."), letter, sign, amount.value, amount.half_width);
}

char *
trammel_sentences_parameter (const TrammelMachine *machine, const TrammelParameter *parameter)
{
  g_return_val_if_fail (machine != NULL && parameter != NULL, NULL);

  if (parameter->has_stated && !(parameter->learned >= TRAMMEL_LEAST_LEARNED))
    return NULL;
  switch (parameter->kind)
    {
    case TRAMMEL_PARAMETER_SKEW:
      return skew_sentence (parameter);
    case TRAMMEL_PARAMETER_SHRINK:
      return shrink_sentence (parameter);
    case TRAMMEL_PARAMETER_BEAD:
      return bead_sentence (machine, parameter);
    case TRAMMEL_PARAMETER_FOOT:
      return foot_sentence (machine, parameter);
    case TRAMMEL_PARAMETER_LASH:
      return lash_sentence (machine, parameter);
    case TRAMMEL_PARAMETER_DATUM:
      return datum_sentence (machine, parameter);
    case TRAMMEL_PARAMETER_INSTRUMENT:
      return instrument_sentence (parameter);
    case TRAMMEL_PARAMETER_SCALE:
    default:
      return NULL;
    }
}

/* " 100.0 mm"; "" where none was said. (transfer full) */
static char *
nominal_after_gap (const TrammelMachine *machine, const TrammelReading *reading)
{
  if (isnan (reading->nominal))
    return g_strdup ("");
  g_auto (Amount) nominal = travel_of (machine, reading->along.axes[0], reading->nominal, 0.1);
  return g_strconcat (" ", nominal.value, NULL);
}

char *
trammel_sentences_suspect (const TrammelMachine *machine, const TrammelReading *reading, const TrammelFitted *fitted,
                           gsize number)
{
  const char *kind = trammel_reading_kind_label (reading->kind);
  g_autofree char *along = NULL;
  g_autofree char *place = NULL;
  g_auto (Amount) residual = { NULL, NULL };

  if (!fitted->suspect)
    return NULL;
  along = trammel_direction_to_text (&reading->along);
  place = nominal_after_gap (machine, reading);
  residual = travel_of (machine, reading->along.axes[0], fitted->residual, fitted->u);
  return fitted->residual > 0
             ? g_strdup_printf (_ ("Reading %zu (%s %s%s) is %s more than the others let expect; measure it again."),
                                number, kind, along, place, residual.value)
             : g_strdup_printf (_ ("Reading %zu (%s %s%s) is %s less than the others let expect; measure it again."),
                                number, kind, along, place, residual.value);
}

GPtrArray *
trammel_sentences_result (const TrammelMachine *machine, const TrammelAdjustment *adjustment)
{
  GPtrArray *sentences = g_ptr_array_new_with_free_func (g_free);
  const TrammelParameter *parameters;
  gsize n;

  g_return_val_if_fail (machine != NULL && adjustment != NULL, sentences);

  for (gsize i = 0; i < trammel_machine_n_axes (machine); i++)
    {
      char letter = trammel_axis_letter (trammel_machine_axis (machine, i));
      char *sentence = trammel_sentences_axis (machine, adjustment, letter);

      if (sentence)
        g_ptr_array_add (sentences, sentence);
    }
  parameters = trammel_adjustment_parameters (adjustment, &n);
  for (gsize i = 0; i < n; i++)
    {
      char *sentence = trammel_sentences_parameter (machine, &parameters[i]);

      if (sentence)
        g_ptr_array_add (sentences, sentence);
    }
  const TrammelLashAgreement *agreements = trammel_adjustment_lash (adjustment, &n);
  for (gsize i = 0; i < n; i++)
    g_ptr_array_add (sentences, trammel_sentences_lash (machine, &agreements[i]));
  return sentences;
}
