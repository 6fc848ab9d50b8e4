/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/exact.h"
#include "base/number.h"
#include "base/quantity.h"
#include "drive/motor.h"
#include "drive/output.h"
#include "drive/stage.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* Whatever a person may type: it is read or refused with a message, and what is read comes back from its text. */

static void
require (gboolean holds)
{
  if (!holds)
    __builtin_trap ();
}

static void
require_message (GError *error)
{
  require (error != NULL && error->message[0] != '\0' && g_utf8_validate (error->message, -1, NULL));
  require (g_utf8_strlen (error->message, -1) < 400);
  g_error_free (error);
}

static void
require_reduced (TrammelExact a)
{
  TrammelExact again;
  require (trammel_exact_make (a.num, a.den, a.pi, &again, NULL) && trammel_exact_equal (a, again));
  require (a.den > 0 && isfinite (trammel_exact_to_double (a)));
}

static void
try_exact (const char *text)
{
  TrammelExact a, back;
  GError *error = NULL;
  if (!trammel_exact_parse (text, &a, &error))
    {
      require_message (error);
      return;
    }
  require_reduced (a);
  g_autofree char *written = trammel_exact_to_text (a);
  g_autofree char *display = trammel_exact_to_display (a, ",");
  require (trammel_exact_parse (written, &back, NULL) && trammel_exact_equal (a, back));
  require (g_utf8_validate (display, -1, NULL));
}

static void
try_number (const char *text, gsize length)
{
  double value, back;
  for (int comma = 0; comma < 2; comma++)
    {
      if (!trammel_number_from_text (text, (gssize)length, comma, &value))
        continue;
      require (isfinite (value));
      g_autofree char *written = trammel_number_to_text (value);
      require (trammel_number_from_text (written, -1, FALSE, &back) && back == value);
    }
}

static void
try_quantity (const char *text, TrammelDimension dimension)
{
  TrammelQuantity quantity, back;
  TrammelExact base;
  GError *error = NULL;
  double value;

  if (trammel_quantity_parse (text, dimension, NULL, &quantity, &error))
    {
      require_reduced (quantity.number);
      g_autofree char *written = trammel_quantity_to_text (quantity);
      require (trammel_quantity_parse (written, dimension, NULL, &back, NULL));
      require (trammel_quantity_equal (quantity, back));
      require (isfinite (trammel_quantity_value (quantity)));
      if (trammel_quantity_base (quantity, &base, NULL))
        require_reduced (base);
      require (trammel_quantity_parse_value (text, dimension, NULL, &value, NULL));
    }
  else
    require_message (error);

  error = NULL;
  if (trammel_quantity_parse_value (text, dimension, NULL, &value, &error))
    require (isfinite (value));
  else
    require_message (error);
}

static void
try_field (const TrammelRecord *record, const char *key, const char *text)
{
  GError *error = NULL;
  g_autoptr (TrammelRecord) edited = trammel_record_with_text (record, key, text, NULL, &error);
  if (edited == NULL)
    {
      require_message (error);
      return;
    }
  g_autofree char *written = trammel_record_text (edited, key);
  g_autoptr (TrammelRecord) again = trammel_record_with_text (edited, key, written, NULL, NULL);
  require (again != NULL && trammel_record_equal (edited, again));
  error = NULL;
  if (!trammel_record_check (edited, &error))
    require_message (error);
}

static void
try_record (const TrammelRecordKind *kind, const char *text)
{
  g_autoptr (TrammelRecord) record = trammel_record_new (kind);
  for (gsize i = 0; i < kind->n_fields; i++)
    try_field (record, kind->fields[i].key, text);
}

int LLVMFuzzerTestOneInput (const uint8_t *data, size_t size);

/* The first byte chooses what the rest is read as. */
int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  if (size == 0)
    return 0;

  g_autofree char *text = g_strndup ((const char *)data + 1, size - 1);
  const guint choice = data[0];
  gsize n_stages, n_outputs, n_motors;
  const TrammelRecordKind *const *stages = trammel_stage_kinds (&n_stages);
  const TrammelRecordKind *const *outputs = trammel_output_kinds (&n_outputs);
  const TrammelRecordKind *const *motors = trammel_motor_kinds (&n_motors);

  try_exact (text);
  try_number ((const char *)data + 1, size - 1);
  try_quantity (text, (TrammelDimension)(choice % TRAMMEL_N_DIMENSIONS));
  try_record (stages[choice % n_stages], text);
  try_record (outputs[choice % n_outputs], text);
  try_record (motors[choice % n_motors], text);
  return 0;
}
