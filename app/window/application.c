/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/application.h"

#include <glib-unix.h>
#include <glib/gi18n.h>
#include <signal.h>

#include "window/spoken-names.h"
#include "window/window.h"

struct _TrammelApplication
{
  GtkApplication parent_instance;

  guint on_sigterm, on_sigint;
};

G_DEFINE_FINAL_TYPE (TrammelApplication, trammel_application, GTK_TYPE_APPLICATION)

static const struct
{
  const char *action;
  const char *keys[3];
} accelerators[] = {
  { "win.new", { "<Control>n" } },
  { "win.open", { "<Control>o" } },
  { "win.save", { "<Control>s" } },
  { "win.save-as", { "<Control><Shift>s" } },
  { "win.import-readings", { "<Control>i" } },
  { "win.undo", { "<Control>z" } },
  { "win.redo", { "<Control><Shift>z", "<Control>y" } },
  { "win.edit-name", { "<Shift>F2" } },
  { "win.show-shortcuts", { "F1", "<Control>question" } },
  { "win.show-page::drive", { "<Alt>1" } },
  { "win.show-page::piece", { "<Alt>2" } },
  { "win.show-page::readings", { "<Alt>3" } },
  { "win.show-page::result", { "<Alt>4" } },
  { "win.show-page::handover", { "<Alt>5" } },
  { "win.next-axis", { "<Control>Page_Down" } },
  { "win.previous-axis", { "<Control>Page_Up" } },
  { "window.close", { "<Control>w" } },
  { "app.quit", { "<Control>q" } },
};

TrammelApplication *
trammel_application_new (void)
{
  return g_object_new (TRAMMEL_TYPE_APPLICATION, "application-id", TRAMMEL_APPLICATION_ID, "flags",
                       G_APPLICATION_HANDLES_OPEN | G_APPLICATION_NON_UNIQUE, NULL);
}

/* Each window asks about its own unsaved work; the last one to close ends the program. */
static void
quit (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  GList *windows = g_list_copy (gtk_application_get_windows (GTK_APPLICATION (data)));
  for (GList *l = windows; l; l = l->next)
    gtk_window_close (l->data);
  g_list_free (windows);
}

static void
about (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  gtk_show_about_dialog (
      gtk_application_get_active_window (GTK_APPLICATION (data)), "program-name", "Trammel", "version", TRAMMEL_VERSION,
      "logo-icon-name", TRAMMEL_APPLICATION_ID, "license-type", GTK_LICENSE_GPL_3_0, "comments",
      _ ("Works out, measures and corrects what the motors of a machine must be told per millimetre. A "
         "trammel is the old shop tool for setting out and checking distances and squareness."),
      "translator-credits", _ ("translator-credits"), NULL);
}

static const GActionEntry actions[] = {
  { "quit", quit },
  { "about", about },
};

/* Told to end by the system: nobody can answer a question now, so the work is kept for the next start. */
static gboolean
end_by_signal (gpointer data)
{
  GtkApplication *application = GTK_APPLICATION (data);
  for (GList *l = gtk_application_get_windows (application); l; l = l->next)
    if (TRAMMEL_IS_WINDOW (l->data))
      trammel_window_keep_work (l->data);
  g_application_quit (G_APPLICATION (application));
  return G_SOURCE_CONTINUE;
}

static void
load_style (void)
{
  g_autoptr (GtkCssProvider) provider = gtk_css_provider_new ();
  gtk_css_provider_load_from_resource (provider, "/org/trammel_bench/Trammel/style.css");
  gtk_style_context_add_provider_for_display (gdk_display_get_default (), GTK_STYLE_PROVIDER (provider),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
}

static void
trammel_application_startup (GApplication *application)
{
  TrammelApplication *self = TRAMMEL_APPLICATION (application);
  G_APPLICATION_CLASS (trammel_application_parent_class)->startup (application);
  trammel_spoken_names_begin ();

  load_style ();
  g_action_map_add_action_entries (G_ACTION_MAP (application), actions, G_N_ELEMENTS (actions), application);
  for (gsize i = 0; i < G_N_ELEMENTS (accelerators); i++)
    gtk_application_set_accels_for_action (GTK_APPLICATION (application), accelerators[i].action, accelerators[i].keys);
  self->on_sigterm = g_unix_signal_add (SIGTERM, end_by_signal, self);
  self->on_sigint = g_unix_signal_add (SIGINT, end_by_signal, self);
}

static void
trammel_application_shutdown (GApplication *application)
{
  TrammelApplication *self = TRAMMEL_APPLICATION (application);
  g_clear_handle_id (&self->on_sigterm, g_source_remove);
  g_clear_handle_id (&self->on_sigint, g_source_remove);
  G_APPLICATION_CLASS (trammel_application_parent_class)->shutdown (application);
}

static void
trammel_application_activate (GApplication *application)
{
  TrammelWindow *window = trammel_window_new (GTK_APPLICATION (application));
  trammel_window_open_example (window);
  gtk_window_present (GTK_WINDOW (window));
}

static void
trammel_application_open (GApplication *application, GFile **files, int n, const char *hint)
{
  for (int i = 0; i < n; i++)
    {
      TrammelWindow *window = trammel_window_new (GTK_APPLICATION (application));
      trammel_window_open_file (window, files[i]);
      gtk_window_present (GTK_WINDOW (window));
    }
}

static int
trammel_application_handle_local_options (GApplication *application, GVariantDict *options)
{
  if (!g_variant_dict_contains (options, "version"))
    return -1;
  g_print ("trammel %s\n", TRAMMEL_VERSION);
  return 0;
}

static void
trammel_application_class_init (TrammelApplicationClass *klass)
{
  GApplicationClass *application_class = G_APPLICATION_CLASS (klass);
  application_class->startup = trammel_application_startup;
  application_class->shutdown = trammel_application_shutdown;
  application_class->activate = trammel_application_activate;
  application_class->open = trammel_application_open;
  application_class->handle_local_options = trammel_application_handle_local_options;
}

static void
trammel_application_init (TrammelApplication *self)
{
  const GOptionEntry options[] = {
    { "version", 0, 0, G_OPTION_ARG_NONE, NULL, N_ ("Show the version"), NULL },
    { NULL },
  };
  g_application_add_main_option_entries (G_APPLICATION (self), options);
  g_application_set_option_context_parameter_string (G_APPLICATION (self), _ ("[MACHINE…]"));
}
