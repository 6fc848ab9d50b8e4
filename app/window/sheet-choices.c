/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the cells of a column are usually one of: as a list to choose from, and to complete what is typed. */
#include "window/sheet-private.h"

#include <glib/gi18n.h>

/* Rows looked through for names in use */
#define MOST_ROWS 2000

gboolean
trammel_sheet_has_choices (TrammelColumn column)
{
  return column == TRAMMEL_COLUMN_KIND || column == TRAMMEL_COLUMN_ALONG || column == TRAMMEL_COLUMN_INSTRUMENT
         || column == TRAMMEL_COLUMN_APPROACH || column == TRAMMEL_COLUMN_SET;
}

static void
add_once (GPtrArray *choices, const char *text)
{
  if (text && !g_ptr_array_find_with_equal_func (choices, text, g_str_equal, NULL))
    g_ptr_array_add (choices, g_strdup (text));
}

static void
add_names_in_use (TrammelSheet *self, TrammelColumn column, GPtrArray *choices)
{
  gsize n;
  const TrammelReading *rows = trammel_readings_rows (trammel_sheet_readings (self), &n);
  for (gsize i = 0; i < MIN (n, MOST_ROWS); i++)
    add_once (choices, column == TRAMMEL_COLUMN_SET ? rows[i].set : rows[i].instrument);
}

static void
add_instruments (TrammelSheet *self, GPtrArray *choices)
{
  gsize n;
  const TrammelInstrument *instruments = trammel_machine_instruments (trammel_session_machine (self->session), &n);
  for (gsize i = 0; i < n; i++)
    add_once (choices, instruments[i].name);
}

static void
add_directions (TrammelSheet *self, GPtrArray *choices)
{
  static const char *const diagonals[] = { "X+Y", "X-Y", "X+Z", "X-Z", "Y+Z", "Y-Z" };
  const TrammelMachine *machine = trammel_session_machine (self->session);
  for (gsize i = 0; i < trammel_machine_n_axes (machine); i++)
    add_once (choices, (char[]){ trammel_axis_letter (trammel_machine_axis (machine, i)), '\0' });
  for (gsize i = 0; i < G_N_ELEMENTS (diagonals); i++)
    if (trammel_machine_axis_index (machine, diagonals[i][0]) >= 0
        && trammel_machine_axis_index (machine, diagonals[i][2]) >= 0)
      add_once (choices, diagonals[i]);
}

/* (transfer full): texts as the cells hold them. */
static GPtrArray *
choices_of (TrammelSheet *self, TrammelColumn column)
{
  GPtrArray *choices = g_ptr_array_new_with_free_func (g_free);
  if (column == TRAMMEL_COLUMN_KIND)
    for (int i = 0; i < TRAMMEL_N_READING_KINDS; i++)
      add_once (choices, trammel_reading_kind_label (i));
  if (column == TRAMMEL_COLUMN_APPROACH)
    for (int i = TRAMMEL_APPROACH_NONE; i <= TRAMMEL_APPROACH_REVERSED; i++)
      add_once (choices, trammel_approach_key (i));
  if (column == TRAMMEL_COLUMN_ALONG)
    add_directions (self, choices);
  if (column == TRAMMEL_COLUMN_INSTRUMENT)
    add_instruments (self, choices);
  if (column == TRAMMEL_COLUMN_INSTRUMENT || column == TRAMMEL_COLUMN_SET)
    add_names_in_use (self, column, choices);
  return choices;
}

/* "X" must not become "X+Y", nor a set "1" a set "12": only words are completed. */
char *
trammel_sheet_completion (TrammelSheet *self, TrammelColumn column, const char *typed)
{
  if (column == TRAMMEL_COLUMN_ALONG || column == TRAMMEL_COLUMN_SET || *typed == '\0')
    return NULL;

  g_autofree char *folded = g_utf8_casefold (typed, -1);
  g_autoptr (GPtrArray) choices = choices_of (self, column);
  for (guint i = 0; i < choices->len; i++)
    {
      const char *choice = g_ptr_array_index (choices, i);
      g_autofree char *start
          = g_utf8_substring (choice, 0, MIN (g_utf8_strlen (typed, -1), g_utf8_strlen (choice, -1)));
      g_autofree char *folded_start = g_utf8_casefold (start, -1);
      if (g_str_equal (folded, folded_start) && strlen (choice) > strlen (typed))
        return g_strdup (choice);
    }
  return NULL;
}

static void
chosen (GtkListBox *list, GtkListBoxRow *row, TrammelSheet *self)
{
  g_autofree char *text = g_strdup (g_object_get_data (G_OBJECT (row), "choice"));
  gtk_popover_popdown (GTK_POPOVER (self->choices));
  gtk_widget_grab_focus (GTK_WIDGET (self));
  trammel_sheet_take_text (self, text);
}

static void
closed (TrammelSheet *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self));
}

static void
make_popover (TrammelSheet *self)
{
  self->choice_list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->choice_list), GTK_SELECTION_BROWSE);
  gtk_widget_add_css_class (self->choice_list, "choices");
  g_signal_connect (self->choice_list, "row-activated", G_CALLBACK (chosen), self);

  GtkWidget *scrolled = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), self->choice_list);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scrolled), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scrolled), 300);

  self->choices = gtk_popover_new ();
  gtk_popover_set_child (GTK_POPOVER (self->choices), scrolled);
  gtk_popover_set_has_arrow (GTK_POPOVER (self->choices), FALSE);
  gtk_popover_set_position (GTK_POPOVER (self->choices), GTK_POS_BOTTOM);
  gtk_widget_set_halign (self->choices, GTK_ALIGN_START);
  gtk_widget_set_parent (self->choices, GTK_WIDGET (self));
  g_signal_connect_swapped (self->choices, "closed", G_CALLBACK (closed), self);
}

static GtkWidget *
make_choice (const char *text)
{
  GtkWidget *label = gtk_label_new (*text ? text : _ ("not said"));
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  GtkWidget *row = gtk_list_box_row_new ();
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), label);
  g_object_set_data_full (G_OBJECT (row), "choice", g_strdup (text), g_free);
  return row;
}

static void
fill_list (TrammelSheet *self, GPtrArray *choices)
{
  GtkListBox *list = GTK_LIST_BOX (self->choice_list);
  GtkWidget *child, *current = NULL;
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->text));

  while ((child = gtk_widget_get_first_child (self->choice_list)))
    gtk_list_box_remove (list, child);
  for (guint i = 0; i < choices->len; i++)
    {
      const char *choice = g_ptr_array_index (choices, i);
      child = make_choice (choice);
      gtk_list_box_append (list, child);
      if (!current || g_str_equal (choice, text))
        current = child;
    }
  gtk_list_box_select_row (list, GTK_LIST_BOX_ROW (current));
}

void
trammel_sheet_open_choices (TrammelSheet *self)
{
  int column = self->cursor.column;
  if (!trammel_sheet_has_choices (column))
    return;
  g_autoptr (GPtrArray) choices = choices_of (self, column);
  if (choices->len == 0)
    {
      trammel_sheet_tell (self, g_strdup (_ ("Nothing to choose from yet: type a name.")), FALSE);
      return;
    }
  if (!self->choices)
    make_popover (self);
  fill_list (self, choices);

  graphene_rect_t cell = trammel_sheet_cell_bounds (self, self->cursor.row, column);
  GdkRectangle place = {
    .x = (int)cell.origin.x, .y = (int)cell.origin.y, .width = (int)cell.size.width, .height = (int)cell.size.height
  };
  gtk_popover_set_pointing_to (GTK_POPOVER (self->choices), &place);
  gtk_popover_popup (GTK_POPOVER (self->choices));
  gtk_widget_grab_focus (GTK_WIDGET (gtk_list_box_get_selected_row (GTK_LIST_BOX (self->choice_list))));
}
