/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/unknowns-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "measure/model-private.h"

/* While readings are being shown, a touched unknown is marked with this; numbers come later. */
#define TOUCHED -2

#define GREATEST_STATED 1e9
/* Below this a stated value is fixed. */
#define LEAST_STATED_U 1e-12
/* Far more than any lash, so that it says nothing of it. mm. */
#define UNTOLD_U 1e3

const guint8 trammel_skew_axes[TRAMMEL_N_SKEWS][2] = { { 0, 1 }, { 0, 2 }, { 1, 2 } };

typedef struct
{
  char axis;
  GRefString *set; /* never NULL: "" when the readings name none */
} DatumKey;

static guint
datum_key_hash (gconstpointer data)
{
  const DatumKey *key = data;

  return g_str_hash (key->set) * 31 + (guint)key->axis;
}

static gboolean
datum_key_equal (gconstpointer a, gconstpointer b)
{
  const DatumKey *first = a;
  const DatumKey *second = b;

  return first->axis == second->axis && strcmp (first->set, second->set) == 0;
}

static void
datum_key_free (gpointer data)
{
  DatumKey *key = data;

  g_ref_string_release (key->set);
  g_free (key);
}

static DatumKey
datum_key_of (const TrammelReading *reading)
{
  static char no_set[] = "";

  return (DatumKey){ reading->along.axes[0], reading->set ? reading->set : no_set };
}

static void
clear_gauge (gpointer element)
{
  g_ref_string_release (((TrammelGauge *)element)->name);
}

void
trammel_unknowns_init (TrammelUnknowns *unknowns)
{
  memset (unknowns, 0, sizeof *unknowns);
  for (int i = 0; i < TRAMMEL_N_LETTERS; i++)
    {
      unknowns->scale[i] = -1;
      for (int source = 0; source < TRAMMEL_N_LASH_SOURCES; source++)
        unknowns->lash[i][source] = -1;
    }
  for (int i = 0; i < TRAMMEL_N_SKEWS; i++)
    unknowns->skew[i] = -1;
  unknowns->shrink = unknowns->bead = unknowns->foot = -1;
  unknowns->last_datum = -1;
  unknowns->datums = g_ptr_array_new_with_free_func (datum_key_free);
  unknowns->datum_ids = g_hash_table_new (datum_key_hash, datum_key_equal);
  unknowns->gauges = g_array_new (FALSE, FALSE, sizeof (TrammelGauge));
  g_array_set_clear_func (unknowns->gauges, clear_gauge);
}

void
trammel_unknowns_clear (TrammelUnknowns *unknowns)
{
  for (guint i = 0; unknowns->parameters != NULL && i < unknowns->n; i++)
    g_free (unknowns->parameters[i].name);
  g_clear_pointer (&unknowns->parameters, g_free);
  g_clear_pointer (&unknowns->datum_ids, g_hash_table_unref);
  g_clear_pointer (&unknowns->datums, g_ptr_array_unref);
  g_clear_pointer (&unknowns->gauges, g_array_unref);
  unknowns->n = 0;
}

static TrammelGauge *
find_gauge (const TrammelUnknowns *unknowns, const char *name)
{
  for (guint i = 0; i < unknowns->gauges->len; i++)
    {
      TrammelGauge *gauge = &g_array_index (unknowns->gauges, TrammelGauge, i);
      if (gauge->name == name || strcmp (gauge->name, name) == 0)
        return gauge;
    }
  return NULL;
}

/* As with u, a later one of the same name wins. */
void
trammel_unknowns_take_instruments (TrammelUnknowns *unknowns, const TrammelAdjustmentInput *input)
{
  for (gsize i = input->n_instruments; i-- > 0;)
    {
      const TrammelInstrument *instrument = &input->instruments[i];
      TrammelGauge gauge = { NULL, instrument->scale_u, trammel_thermal_strain (&instrument->thermal), -1 };
      if (!trammel_instrument_details_are_usable (instrument) || (gauge.scale_u == 0 && gauge.strain == 0)
          || find_gauge (unknowns, instrument->name) != NULL)
        continue;
      gauge.name = g_ref_string_acquire (instrument->name);
      g_array_append_val (unknowns->gauges, gauge);
    }
  unknowns->part_strain = trammel_thermal_is_usable (&input->part) ? trammel_thermal_strain (&input->part) : 0;
}

TrammelGauge *
trammel_unknowns_gauge (const TrammelUnknowns *unknowns, const TrammelReading *reading)
{
  return reading->instrument == NULL ? NULL : find_gauge (unknowns, reading->instrument);
}

int
trammel_unknowns_datum (const TrammelUnknowns *unknowns, const TrammelReading *reading)
{
  DatumKey key = datum_key_of (reading);

  return GPOINTER_TO_INT (g_hash_table_lookup (unknowns->datum_ids, &key)) - 1;
}

static gboolean
touch_datum (TrammelUnknowns *unknowns, const TrammelReading *reading)
{
  DatumKey key = datum_key_of (reading);

  /* Neighbours mostly share their set. */
  if (unknowns->last_datum >= 0 && datum_key_equal (g_ptr_array_index (unknowns->datums, unknowns->last_datum), &key))
    return TRUE;
  unknowns->last_datum = trammel_unknowns_datum (unknowns, reading);
  if (unknowns->last_datum >= 0)
    return TRUE;
  if (unknowns->datums->len >= TRAMMEL_MAX_PARAMETERS)
    return FALSE;

  DatumKey *added = g_new (DatumKey, 1);
  added->axis = key.axis;
  added->set = g_ref_string_new (key.set);
  unknowns->last_datum = (int)unknowns->datums->len;
  g_ptr_array_add (unknowns->datums, added);
  g_hash_table_insert (unknowns->datum_ids, added, GINT_TO_POINTER ((int)unknowns->datums->len));
  return TRUE;
}

static void
touch_direction (TrammelUnknowns *unknowns, const TrammelReading *reading)
{
  double vector[3];

  if (trammel_direction_is_single (&reading->along))
    {
      unknowns->scale[reading->along.axes[0] - 'A'] = TOUCHED;
      return;
    }
  trammel_direction_vector (&reading->along, vector);
  for (int i = 0; i < 3; i++)
    if (vector[i] != 0)
      unknowns->scale['X' - 'A' + i] = TOUCHED;
  for (int i = 0; i < TRAMMEL_N_SKEWS; i++)
    if (vector[trammel_skew_axes[i][0]] != 0 && vector[trammel_skew_axes[i][1]] != 0)
      unknowns->skew[i] = TOUCHED;
}

static void
touch_instrument (TrammelUnknowns *unknowns, const TrammelReading *reading)
{
  TrammelGauge *gauge = unknowns->gauges->len > 0 ? trammel_unknowns_gauge (unknowns, reading) : NULL;

  if (gauge != NULL && gauge->scale_u > 0)
    gauge->scale = TOUCHED;
}

static void
touch_lash (TrammelUnknowns *unknowns, const TrammelReading *reading)
{
  const int letter = reading->along.axes[0] - 'A', source = trammel_lash_source_of (reading);

  if (source < 0)
    return;
  unknowns->lash[letter][source] = TOUCHED;
  unknowns->lash_sources[letter] |= (guint8)(1u << source);
}

gboolean
trammel_unknowns_touch (TrammelUnknowns *unknowns, const TrammelReading *reading)
{
  if (reading->kind != TRAMMEL_READING_REVERSAL)
    touch_direction (unknowns, reading);
  touch_lash (unknowns, reading);
  touch_instrument (unknowns, reading);
  switch ((TrammelReadingKind)reading->kind)
    {
    case TRAMMEL_READING_OUTSIDE:
    case TRAMMEL_READING_INSIDE:
      unknowns->shrink = TOUCHED;
      if (trammel_model_bead_reach (reading) != 0)
        unknowns->bead = TOUCHED;
      return TRUE;
    case TRAMMEL_READING_CENTER:
      unknowns->shrink = TOUCHED;
      return TRUE;
    case TRAMMEL_READING_HEIGHT:
      unknowns->foot = unknowns->shrink = TOUCHED;
      return TRUE;
    case TRAMMEL_READING_POSITION:
      return touch_datum (unknowns, reading);
    case TRAMMEL_READING_TRAVEL:
    case TRAMMEL_READING_REVERSAL:
    case TRAMMEL_READING_HOME:
    default:
      return TRUE;
    }
}

static gint16
append (TrammelUnknowns *unknowns, TrammelParameterKind kind, char first, char second, char *name)
{
  TrammelParameter *parameter = &unknowns->parameters[unknowns->n];

  parameter->name = name;
  parameter->kind = kind;
  parameter->axes[0] = first;
  parameter->axes[1] = second;
  return (gint16)unknowns->n++;
}

/* In the order of the machine's axes. */
static void
append_per_axis (TrammelUnknowns *unknowns, const char *axes, gint16 places[TRAMMEL_N_LETTERS],
                 TrammelParameterKind kind, const char *word)
{
  for (const char *axis = axes; *axis != '\0'; axis++)
    if (g_ascii_isupper (*axis) && places[*axis - 'A'] == TOUCHED)
      places[*axis - 'A'] = append (unknowns, kind, *axis, '\0', g_strdup_printf ("%s.%c", word, *axis));
}

static gint16
append_split_lash (TrammelUnknowns *unknowns, char letter, int source)
{
  char *name = g_strdup_printf ("lash.%c.%s", letter, trammel_lash_source_key ((TrammelLashSource)source));
  const gint16 place = append (unknowns, TRAMMEL_PARAMETER_LASH, letter, '\0', name);

  unknowns->parameters[place].has_stated = unknowns->untold_lash[letter - 'A'] >> source & 1;
  unknowns->parameters[place].stated_u = UNTOLD_U;
  return place;
}

static void
append_lash_of_axis (TrammelUnknowns *unknowns, char letter)
{
  gint16 *places = unknowns->lash[letter - 'A'];
  gint16 shared = -1;

  for (int source = 0; source < TRAMMEL_N_LASH_SOURCES; source++)
    {
      if (places[source] != TOUCHED)
        continue;
      if (unknowns->split_lash & 1u << (letter - 'A'))
        places[source] = append_split_lash (unknowns, letter, source);
      else if (shared < 0)
        shared = append (unknowns, TRAMMEL_PARAMETER_LASH, letter, '\0', g_strdup_printf ("lash.%c", letter));
    }
  for (int source = 0; shared >= 0 && source < TRAMMEL_N_LASH_SOURCES; source++)
    places[source] = shared;
}

static void
append_if_touched (TrammelUnknowns *unknowns, gint16 *place, TrammelParameterKind kind, const char *name)
{
  if (*place == TOUCHED)
    *place = append (unknowns, kind, '\0', '\0', g_strdup (name));
}

/* In the order of the machine's list, which the gauges have backwards. */
static void
append_instruments (TrammelUnknowns *unknowns)
{
  for (guint i = unknowns->gauges->len; i-- > 0;)
    {
      TrammelGauge *gauge = &g_array_index (unknowns->gauges, TrammelGauge, i);
      if (gauge->scale != TOUCHED)
        continue;
      gauge->scale
          = append (unknowns, TRAMMEL_PARAMETER_INSTRUMENT, '\0', '\0', g_strdup_printf ("instrument.%s", gauge->name));
      unknowns->parameters[gauge->scale].has_stated = TRUE;
      unknowns->parameters[gauge->scale].stated_u = gauge->scale_u;
    }
}

static void
append_all (TrammelUnknowns *unknowns, const char *axes)
{
  append_per_axis (unknowns, axes, unknowns->scale, TRAMMEL_PARAMETER_SCALE, "scale");
  for (int i = 0; i < TRAMMEL_N_SKEWS; i++)
    if (unknowns->skew[i] == TOUCHED)
      {
        char first = (char)('X' + trammel_skew_axes[i][0]);
        char second = (char)('X' + trammel_skew_axes[i][1]);
        unknowns->skew[i]
            = append (unknowns, TRAMMEL_PARAMETER_SKEW, first, second, g_strdup_printf ("skew.%c%c", first, second));
      }
  append_if_touched (unknowns, &unknowns->shrink, TRAMMEL_PARAMETER_SHRINK, "shrink");
  append_if_touched (unknowns, &unknowns->bead, TRAMMEL_PARAMETER_BEAD, "bead");
  append_if_touched (unknowns, &unknowns->foot, TRAMMEL_PARAMETER_FOOT, "foot");
  for (const char *axis = axes; *axis != '\0'; axis++)
    if (g_ascii_isupper (*axis))
      append_lash_of_axis (unknowns, *axis);
  append_instruments (unknowns);
  unknowns->first_datum = unknowns->n;
  for (guint i = 0; i < unknowns->datums->len; i++)
    {
      const DatumKey *key = g_ptr_array_index (unknowns->datums, i);
      char *name = g_strdup_printf ("datum.%c%s%s", key->axis, *key->set ? "." : "", key->set);
      append (unknowns, TRAMMEL_PARAMETER_DATUM, key->axis, '\0', name);
    }
}

static gboolean
is_stated_already (const TrammelUnknowns *unknowns, const TrammelParameter *parameter)
{
  return parameter->kind == TRAMMEL_PARAMETER_INSTRUMENT
         || (parameter->kind == TRAMMEL_PARAMETER_LASH && unknowns->split_lash & 1u << (parameter->axes[0] - 'A'));
}

static gboolean
state (TrammelParameter *parameter, const TrammelAdjustmentInput *input, GError **error)
{
  if (input->scatter == TRAMMEL_SCATTER_STATED)
    parameter->has_stated = parameter->stated_is_default
        = trammel_stated_default (parameter->kind, &parameter->stated_value, &parameter->stated_u);

  if (!trammel_stated_default (parameter->kind, NULL, NULL))
    return TRUE;
  for (gsize i = 0; i < input->n_stated; i++)
    {
      const TrammelStated *stated = &input->stated[i];
      if (strcmp (stated->name, parameter->name) != 0)
        continue;
      /* Written so that NaN fails too. */
      if (!(fabs (stated->value) <= GREATEST_STATED) || !(stated->u >= 0))
        {
          g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA,
                       _ ("stated.%s: a value within ±1e9 and an uncertainty of 0 or more are wanted"), stated->name);
          return FALSE;
        }
      parameter->has_stated = TRUE;
      parameter->stated_is_default = FALSE;
      parameter->stated_value = stated->value;
      parameter->stated_u = stated->u < LEAST_STATED_U ? 0 : stated->u;
    }
  return TRUE;
}

gboolean
trammel_unknowns_arrange (TrammelUnknowns *unknowns, const TrammelAdjustmentInput *input, GError **error)
{
  unknowns->parameters = g_new0 (TrammelParameter, (1 + TRAMMEL_N_LASH_SOURCES) * TRAMMEL_N_LETTERS + TRAMMEL_N_SKEWS
                                                       + 3 + unknowns->gauges->len + unknowns->datums->len);
  append_all (unknowns, input->axes);
  if (unknowns->n > TRAMMEL_MAX_PARAMETERS)
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_TOO_LARGE, _ ("%u unknowns; at most %d can be found at once"),
                   unknowns->n, TRAMMEL_MAX_PARAMETERS);
      return FALSE;
    }
  for (guint i = 0; i < unknowns->n; i++)
    if (!is_stated_already (unknowns, &unknowns->parameters[i]) && !state (&unknowns->parameters[i], input, error))
      return FALSE;
  return TRUE;
}
