/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/codec.h"
#include "machine/export.h"

#include <stdint.h>
#include <string.h>

/* Any bytes as a machine file: refused with a message, or read, and what is read comes back from what is written. */

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
  require (strchr (error->message, '\n') == NULL && strlen (error->message) < 4000);
  g_error_free (error);
}

static void
try_derived (const TrammelMachine *machine)
{
  gsize n;
  const TrammelExportForm *forms = trammel_export_forms (&n);
  GError *error = NULL;

  for (gsize i = 0; i < trammel_machine_n_axes (machine); i++)
    {
      g_autofree char *words = trammel_train_to_words (trammel_axis_train (trammel_machine_axis (machine, i)));
      require (words != NULL && g_utf8_validate (words, -1, NULL));
    }
  for (gsize i = 0; i < n; i++)
    {
      g_autofree char *text = trammel_export_text (machine, &forms[i], "2026-11-25T09:36:00Z", &error);
      require (text == NULL || g_utf8_validate (text, -1, NULL));
      if (text == NULL)
        require_message (g_steal_pointer (&error));
    }
}

int LLVMFuzzerTestOneInput (const uint8_t *data, size_t size);

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  GError *error = NULL;
  gsize length, length_again;
  g_autoptr (TrammelMachine) machine = trammel_codec_read ((const char *)data, size, &error);
  if (machine == NULL)
    {
      require_message (error);
      return 0;
    }
  require (error == NULL);

  g_autofree char *text = trammel_codec_write (machine, &length);
  g_autoptr (TrammelMachine) back = trammel_codec_read (text, length, NULL);
  require (back != NULL && trammel_machine_equal (machine, back));
  g_autofree char *again = trammel_codec_write (back, &length_again);
  require (length == length_again && memcmp (text, again, length) == 0);
  try_derived (machine);
  return 0;
}
