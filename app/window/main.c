/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>
#include <locale.h>

#include "window/application.h"

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  const char *translations = g_getenv ("TRAMMEL_LOCALEDIR"); /* of a build that is not installed */
  bindtextdomain (GETTEXT_PACKAGE, translations ? translations : LOCALEDIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  g_set_application_name ("Trammel");

  g_autoptr (TrammelApplication) application = trammel_application_new ();
  return g_application_run (G_APPLICATION (application), argc, argv);
}
