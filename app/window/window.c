/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/window.h"

#include <glib/gi18n.h>

#include "window/autosave.h"
#include "window/axis-actions.h"
#include "window/axis-list.h"
#include "window/file-actions.h"
#include "window/main-menu.h"
#include "window/pages.h"
#include "window/rewrite.h"
#include "window/steps.h"
#include "window/tables-window.h"

struct _TrammelWindow
{
  GtkApplicationWindow parent_instance;

  TrammelSession *session;
  TrammelFileActions *files;
  TrammelAutosave *autosave;

  GtkEditableLabel *name;
  GtkLabel *state;
  GtkWidget *undo;
  GtkWidget *redo;
  GtkMenuButton *menu;
  TrammelNotices *notices;
  TrammelAxisList *axes;
  GtkStack *stack;

  gboolean drawn; /* the first frame is out */
};

G_DEFINE_FINAL_TYPE (TrammelWindow, trammel_window, GTK_TYPE_APPLICATION_WINDOW)

TrammelSession *
trammel_window_session (TrammelWindow *self)
{
  g_return_val_if_fail (TRAMMEL_IS_WINDOW (self), NULL);
  return self->session;
}

TrammelNotices *
trammel_window_notices (TrammelWindow *self)
{
  g_return_val_if_fail (TRAMMEL_IS_WINDOW (self), NULL);
  return self->notices;
}

/* Pages */

static const TrammelPage *
page_of_name (const char *name)
{
  gsize n;
  const TrammelPage *pages = trammel_pages (&n);
  for (gsize i = 0; i < n; i++)
    if (g_strcmp0 (pages[i].name, name) == 0)
      return &pages[i];
  return NULL;
}

static void
make_page (TrammelWindow *self, const TrammelPage *page)
{
  if (!gtk_stack_get_child_by_name (self->stack, page->name))
    gtk_stack_add_named (self->stack, page->make (self->session), page->name);
  gtk_stack_set_visible_child_name (self->stack, page->name);
}

void
trammel_window_show_page (TrammelWindow *self, const char *name)
{
  g_return_if_fail (TRAMMEL_IS_WINDOW (self));

  const TrammelPage *page = page_of_name (name);
  if (!page)
    return;
  g_action_change_state (g_action_map_lookup_action (G_ACTION_MAP (self), "show-page"), g_variant_new_string (name));
}

static void
page_chosen (GSimpleAction *action, GVariant *state, gpointer data)
{
  TrammelWindow *self = TRAMMEL_WINDOW (data);
  const TrammelPage *page = page_of_name (g_variant_get_string (state, NULL));
  if (!page)
    return;
  g_simple_action_set_state (action, state);
  /* Before the first frame nobody can see the page, and making it would only delay that frame. */
  if (self->drawn)
    make_page (self, page);
}

/* The first frame is the window's frame; what it holds comes with the second, so that something is seen at once. */
static gboolean
fill_window (gpointer data)
{
  TrammelWindow *self = TRAMMEL_WINDOW (data);
  g_autoptr (GVariant) name = g_action_group_get_action_state (G_ACTION_GROUP (self), "show-page");
  self->drawn = TRUE;
  trammel_axis_list_set_session (self->axes, self->session);
  make_page (self, page_of_name (g_variant_get_string (name, NULL)));
  trammel_autosave_offer_leftovers (self->autosave);
  return G_SOURCE_REMOVE;
}

static void
first_frame_drawn (GdkFrameClock *clock, TrammelWindow *self)
{
  g_signal_handlers_disconnect_by_func (clock, first_frame_drawn, self);
  g_idle_add_full (G_PRIORITY_DEFAULT_IDLE, fill_window, g_object_ref (self), g_object_unref);
}

static void
trammel_window_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (trammel_window_parent_class)->map (widget);
  if (!TRAMMEL_WINDOW (widget)->drawn)
    g_signal_connect_object (gtk_widget_get_frame_clock (widget), "after-paint", G_CALLBACK (first_frame_drawn), widget,
                             0);
}

/* The header bar */

static void
set_enabled (TrammelWindow *self, const char *action, gboolean enabled)
{
  g_simple_action_set_enabled (G_SIMPLE_ACTION (g_action_map_lookup_action (G_ACTION_MAP (self), action)), enabled);
}

static void
show_undo (TrammelWindow *self)
{
  g_autofree char *undo = NULL, *redo = NULL;
  g_object_get (self->session, "undo-label", &undo, "redo-label", &redo, NULL);
  /* Translators: %s is what was done, like “change teeth” */
  g_autofree char *undo_tip = undo ? g_strdup_printf (_ ("Undo: %s (Ctrl+Z)"), undo) : g_strdup (_ ("Nothing to undo"));
  g_autofree char *redo_tip
      = redo ? g_strdup_printf (_ ("Redo: %s (Ctrl+Shift+Z)"), redo) : g_strdup (_ ("Nothing to redo"));
  trammel_rewrite_tooltip (self->undo, undo_tip);
  trammel_rewrite_tooltip (self->redo, redo_tip);
  set_enabled (self, "undo", undo != NULL);
  set_enabled (self, "redo", redo != NULL);
}

static char *
state_in_words (TrammelWindow *self)
{
  GFile *file = trammel_session_file (self->session);
  gboolean modified = trammel_session_is_modified (self->session);
  if (!file)
    return g_strdup (modified ? _ ("unsaved changes, no file yet") : _ ("not in a file yet"));
  g_autofree char *base = g_file_get_basename (file);
  g_autofree char *name = g_filename_display_name (base);
  return g_strdup_printf (modified ? _ ("%s · unsaved changes") : _ ("%s · saved"), name);
}

static void
show_state (TrammelWindow *self)
{
  show_undo (self);
  g_autofree char *state = state_in_words (self);
  const char *name = trammel_machine_name (trammel_session_machine (self->session));
  gboolean modified = trammel_session_is_modified (self->session);
  g_autofree char *title
      = g_strdup_printf ("%s%s – Trammel", modified ? "•" : "", *name ? name : _ ("Unnamed machine"));
  trammel_rewrite_label (self->state, state);
  if (g_strcmp0 (gtk_window_get_title (GTK_WINDOW (self)), title) == 0)
    return;
  gtk_window_set_title (GTK_WINDOW (self), title);
  if (!gtk_editable_label_get_editing (self->name))
    gtk_editable_set_text (GTK_EDITABLE (self->name), *name ? name : _ ("Unnamed machine"));
}

static void
name_edited (TrammelWindow *self)
{
  if (gtk_editable_label_get_editing (self->name))
    return;
  g_autofree char *name = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->name))));
  const TrammelMachine *machine = trammel_session_machine (self->session);
  if (*name && g_strcmp0 (name, _ ("Unnamed machine")) != 0)
    trammel_session_edit (self->session, trammel_machine_with_name (machine, name), _ ("rename the machine"), NULL);
  show_state (self);
}

/* What was typed has become part of the machine: from here on undo means the machine's. */
static void
forget_typing (TrammelWindow *self)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (self));
  if (!GTK_IS_TEXT (focus) || !gtk_editable_get_enable_undo (GTK_EDITABLE (focus)))
    return;
  gtk_editable_set_enable_undo (GTK_EDITABLE (focus), FALSE);
  gtk_editable_set_enable_undo (GTK_EDITABLE (focus), TRUE);
}

static void
session_changed (TrammelWindow *self)
{
  const TrammelUnit *unit = trammel_machine_display_unit (trammel_session_machine (self->session));
  g_action_group_change_action_state (G_ACTION_GROUP (self), "shown-unit",
                                      g_variant_new_string (trammel_unit_symbol (unit)));
  forget_typing (self);
}

/* Actions */

static void
undo (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  trammel_session_undo (TRAMMEL_WINDOW (data)->session);
}

static void
redo (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  trammel_session_redo (TRAMMEL_WINDOW (data)->session);
}

static void
say (GSimpleAction *action, GVariant *text, gpointer data)
{
  trammel_notices_show (TRAMMEL_WINDOW (data)->notices, "say", TRAMMEL_NOTICE_INFO, g_variant_get_string (text, NULL),
                        NULL, 0);
}

static void
complain (GSimpleAction *action, GVariant *text, gpointer data)
{
  trammel_notices_show (TRAMMEL_WINDOW (data)->notices, "complain", TRAMMEL_NOTICE_TROUBLE,
                        g_variant_get_string (text, NULL), NULL, 0);
}

static void
choose_unit (GSimpleAction *action, GVariant *symbol, gpointer data)
{
  TrammelWindow *self = TRAMMEL_WINDOW (data);
  const TrammelUnit *unit = trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, g_variant_get_string (symbol, NULL));
  if (unit)
    trammel_session_edit (self->session,
                          trammel_machine_with_display_unit (trammel_session_machine (self->session), unit),
                          _ ("change the display unit"), NULL);
}

/* Only session_changed() may say which unit is shown. */
static void
unit_changed (GSimpleAction *action, GVariant *symbol, gpointer data)
{
  g_simple_action_set_state (action, symbol);
}

static void
edit_name (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TrammelWindow *self = TRAMMEL_WINDOW (data);
  gtk_widget_grab_focus (GTK_WIDGET (self->name));
  gtk_editable_label_start_editing (self->name);
}

static void
show_shortcuts (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  g_autoptr (GtkBuilder) builder = gtk_builder_new_from_resource ("/org/trammel_bench/Trammel/shortcuts.ui");
  GtkWindow *shortcuts = GTK_WINDOW (gtk_builder_get_object (builder, "shortcuts"));
  gtk_window_set_transient_for (shortcuts, GTK_WINDOW (data));
  gtk_window_present (shortcuts);
}

static void export(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  trammel_window_show_page (TRAMMEL_WINDOW (data), "handover");
}

static void
show_tables (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  trammel_tables_window_show (GTK_WINDOW (data), NULL, NULL);
}

static void
keep_in_table (GSimpleAction *action, GVariant *key_and_value, gpointer data)
{
  const char *key, *value;
  g_variant_get (key_and_value, "(&s&s)", &key, &value);
  trammel_tables_window_show (GTK_WINDOW (data), key, value);
}

static const GActionEntry actions[] = {
  { "undo", undo },
  { "redo", redo },
  { "say", say, "s" },
  { "complain", complain, "s" },
  { "edit-name", edit_name },
  { "export", export },
  { "show-shortcuts", show_shortcuts },
  { "show-tables", show_tables },
  { "keep-in-table", keep_in_table, "(ss)" },
  { "show-page", NULL, "s", "'drive'", page_chosen },
  { "shown-unit", choose_unit, "s", "'mm'", unit_changed },
};

void
trammel_window_open_file (TrammelWindow *self, GFile *file)
{
  g_return_if_fail (TRAMMEL_IS_WINDOW (self));
  trammel_file_actions_open (self->files, file);
}

void
trammel_window_open_example (TrammelWindow *self)
{
  g_return_if_fail (TRAMMEL_IS_WINDOW (self));
  trammel_file_actions_open_example (self->files);
}

void
trammel_window_keep_work (TrammelWindow *self)
{
  g_return_if_fail (TRAMMEL_IS_WINDOW (self));
  trammel_autosave_keep (self->autosave);
}

static gboolean
trammel_window_close_request (GtkWindow *window)
{
  TrammelWindow *self = TRAMMEL_WINDOW (window);
  if (!trammel_file_actions_may_close (self->files))
    return TRUE;
  trammel_autosave_end (self->autosave);
  return GTK_WINDOW_CLASS (trammel_window_parent_class)->close_request (window);
}

TrammelWindow *
trammel_window_new (GtkApplication *application)
{
  return g_object_new (TRAMMEL_TYPE_WINDOW, "application", application, NULL);
}

static void
trammel_window_dispose (GObject *object)
{
  TrammelWindow *self = TRAMMEL_WINDOW (object);
  g_clear_pointer (&self->autosave, trammel_autosave_free);
  g_clear_pointer (&self->files, trammel_file_actions_free);
  G_OBJECT_CLASS (trammel_window_parent_class)->dispose (object);
  g_clear_object (&self->session);
}

static void
trammel_window_class_init (TrammelWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->dispose = trammel_window_dispose;
  widget_class->map = trammel_window_map;
  GTK_WINDOW_CLASS (klass)->close_request = trammel_window_close_request;

  g_type_ensure (TRAMMEL_TYPE_NOTICES);
  g_type_ensure (TRAMMEL_TYPE_AXIS_LIST);
  g_type_ensure (TRAMMEL_TYPE_STEPS);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/window.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelWindow, name);
  gtk_widget_class_bind_template_child (widget_class, TrammelWindow, state);
  gtk_widget_class_bind_template_child (widget_class, TrammelWindow, undo);
  gtk_widget_class_bind_template_child (widget_class, TrammelWindow, redo);
  gtk_widget_class_bind_template_child (widget_class, TrammelWindow, menu);
  gtk_widget_class_bind_template_child (widget_class, TrammelWindow, notices);
  gtk_widget_class_bind_template_child (widget_class, TrammelWindow, axes);
  gtk_widget_class_bind_template_child (widget_class, TrammelWindow, stack);
  gtk_widget_class_bind_template_callback (widget_class, name_edited);
}

static void
trammel_window_init (TrammelWindow *self)
{
  self->session = trammel_session_new ();
  gtk_widget_init_template (GTK_WIDGET (self));
  g_action_map_add_action_entries (G_ACTION_MAP (self), actions, G_N_ELEMENTS (actions), self);
  self->files = trammel_file_actions_new (self);
  self->autosave = trammel_autosave_new (self->session, self->notices, G_ACTION_MAP (self));
  trammel_axis_actions_install (G_ACTION_MAP (self), self->session, self->notices);
  trammel_main_menu_attach (self->menu);

  g_signal_connect_object (self->session, "changed", G_CALLBACK (session_changed), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->session, "notify::redo-label", G_CALLBACK (show_state), self, G_CONNECT_SWAPPED);
  show_state (self);
}
