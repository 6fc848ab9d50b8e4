/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/unknowns-view.h"

#include <glib/gi18n.h>

#include "draw/display.h"
#include "window/parameter-text.h"
#include "window/rewrite.h"
#include "window/stated-editor.h"

/* One unknown's widgets, kept as long as it is there, so that an editor keeps its focus. */
typedef struct
{
  char *name;
  GtkWidget *value;
  GtkWidget *editor; /* NULL: not one that can be stated */
  GtkWidget *bar, *percent;
} Row;

struct _TrammelUnknownsView
{
  GtkWidget parent_instance;

  GtkWidget *grid;
  GArray *rows;
};

G_DEFINE_FINAL_TYPE (TrammelUnknownsView, trammel_unknowns_view, GTK_TYPE_WIDGET)

static void
row_clear (gpointer data)
{
  g_free (((Row *)data)->name);
}

static GtkWidget *
make_label (const char *text, float xalign, const char *style)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), xalign);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  if (style)
    gtk_widget_add_css_class (label, style);
  return label;
}

static void
add_heading (TrammelUnknownsView *self, int column, const char *text, const char *meaning, float xalign)
{
  GtkWidget *label = make_label (text, xalign, "heading");

  trammel_rewrite_tooltip (label, meaning);
  gtk_widget_set_valign (label, GTK_ALIGN_END);
  gtk_grid_attach (GTK_GRID (self->grid), label, column, 0, 1, 1);
}

static void
add_headings (TrammelUnknownsView *self)
{
  add_heading (self, 0, _ ("Unknown"), _ ("What the fit had to find out"), 0);
  add_heading (self, 1, _ ("Found, ± 95 %"), _ ("The truth lies in this interval in 95 of 100 such fits"), 1);
  add_heading (self, 2, _ ("Stated beforehand, ± u"),
               _ ("What you believe without these readings, with its standard uncertainty; blank is the default"), 0);
  add_heading (self, 3, _ ("Learned"),
               _ ("How much of the answer comes from the readings, and not from what was stated"), 0);
}

static void
add_learned (TrammelUnknownsView *self, Row *row, int place)
{
  g_autofree char *words = trammel_parameter_to_words (row->name);
  g_autofree char *learned = g_strdup_printf (_ ("Learned about %s"), words);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  row->bar = gtk_level_bar_new ();
  gtk_level_bar_remove_offset_value (GTK_LEVEL_BAR (row->bar), GTK_LEVEL_BAR_OFFSET_LOW);
  gtk_level_bar_remove_offset_value (GTK_LEVEL_BAR (row->bar), GTK_LEVEL_BAR_OFFSET_HIGH);
  gtk_level_bar_remove_offset_value (GTK_LEVEL_BAR (row->bar), GTK_LEVEL_BAR_OFFSET_FULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row->bar), GTK_ACCESSIBLE_PROPERTY_LABEL, learned, -1);
  gtk_widget_set_size_request (row->bar, 56, -1);
  gtk_widget_set_valign (row->bar, GTK_ALIGN_CENTER);
  row->percent = make_label ("", 1, "numeric");
  gtk_label_set_width_chars (GTK_LABEL (row->percent), 5);
  gtk_label_set_wrap (GTK_LABEL (row->percent), FALSE);
  gtk_box_append (GTK_BOX (box), row->bar);
  gtk_box_append (GTK_BOX (box), row->percent);
  gtk_grid_attach (GTK_GRID (self->grid), box, 3, place, 1, 1);
}

static gboolean
can_be_stated (const TrammelParameter *parameter)
{
  return trammel_stated_default (parameter->kind, NULL, NULL);
}

static void
add_row (TrammelUnknownsView *self, TrammelSession *session, const TrammelParameter *parameter)
{
  g_autofree char *called = trammel_parameter_to_words (parameter->name);
  g_autofree char *words = trammel_display_with_capital (called);
  Row row = { .name = g_strdup (parameter->name) };
  int place = (int)self->rows->len + 1;
  GtkWidget *name = make_label (words, 0, NULL);

  gtk_widget_set_hexpand (name, TRUE);
  gtk_grid_attach (GTK_GRID (self->grid), name, 0, place, 1, 1);
  row.value = make_label ("", 1, "numeric");
  gtk_label_set_selectable (GTK_LABEL (row.value), TRUE);
  gtk_widget_set_can_focus (row.value, FALSE);
  gtk_grid_attach (GTK_GRID (self->grid), row.value, 1, place, 1, 1);
  if (can_be_stated (parameter))
    {
      row.editor = trammel_stated_editor_new (session, parameter->name);
      gtk_grid_attach (GTK_GRID (self->grid), row.editor, 2, place, 1, 1);
    }
  else
    gtk_grid_attach (GTK_GRID (self->grid), make_label (_ ("from the readings alone"), 0, "dim-label"), 2, place, 1, 1);
  add_learned (self, &row, place);
  g_array_append_val (self->rows, row);
}

static gboolean
shows_these (TrammelUnknownsView *self, const TrammelParameter *parameters, gsize n)
{
  if (self->rows->len != n)
    return FALSE;
  for (gsize i = 0; i < n; i++)
    if (!g_str_equal (g_array_index (self->rows, Row, i).name, parameters[i].name))
      return FALSE;
  return TRUE;
}

static void
make_rows (TrammelUnknownsView *self, TrammelSession *session, const TrammelParameter *parameters, gsize n)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->grid)))
    gtk_grid_remove (GTK_GRID (self->grid), child);
  g_array_set_size (self->rows, 0);
  add_headings (self);
  for (gsize i = 0; i < n; i++)
    add_row (self, session, &parameters[i]);
}

static void
show_in_full (GtkWidget *value, const char *full)
{
  if (g_strcmp0 (full, gtk_widget_get_tooltip_text (value)) == 0)
    return;
  trammel_rewrite_tooltip (value, full);
  gtk_accessible_update_property (GTK_ACCESSIBLE (value), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, full, -1);
}

static void
show_row (Row *row, const TrammelMachine *machine, const TrammelParameter *parameter)
{
  g_autofree char *value = trammel_parameter_interval_text (machine, parameter);
  g_autofree char *full = trammel_parameter_full_text (machine, parameter);
  g_autofree char *percent = g_strdup_printf ("%.0f %%", 100 * CLAMP (parameter->learned, 0, 1));

  trammel_rewrite_label (GTK_LABEL (row->value), value);
  show_in_full (row->value, full);
  if (!g_str_equal (percent, gtk_label_get_text (GTK_LABEL (row->percent))))
    gtk_level_bar_set_value (GTK_LEVEL_BAR (row->bar), CLAMP (parameter->learned, 0, 1));
  trammel_rewrite_label (GTK_LABEL (row->percent), percent);
  if (row->editor)
    trammel_stated_editor_update (TRAMMEL_STATED_EDITOR (row->editor));
}

void
trammel_unknowns_view_show (TrammelUnknownsView *self, TrammelSession *session, const TrammelAdjustment *adjustment)
{
  gsize n;

  g_return_if_fail (TRAMMEL_IS_UNKNOWNS_VIEW (self) && TRAMMEL_IS_SESSION (session) && adjustment != NULL);

  const TrammelParameter *parameters = trammel_adjustment_parameters (adjustment, &n);
  if (!shows_these (self, parameters, n))
    make_rows (self, session, parameters, n);
  for (gsize i = 0; i < n; i++)
    show_row (&g_array_index (self->rows, Row, i), trammel_session_machine (session), &parameters[i]);
}

static void
trammel_unknowns_view_dispose (GObject *object)
{
  TrammelUnknownsView *self = TRAMMEL_UNKNOWNS_VIEW (object);
  g_clear_pointer (&self->grid, gtk_widget_unparent);
  g_clear_pointer (&self->rows, g_array_unref);
  G_OBJECT_CLASS (trammel_unknowns_view_parent_class)->dispose (object);
}

static void
trammel_unknowns_view_class_init (TrammelUnknownsViewClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = trammel_unknowns_view_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "unknowns");
}

static void
trammel_unknowns_view_init (TrammelUnknownsView *self)
{
  self->rows = g_array_new (FALSE, FALSE, sizeof (Row));
  g_array_set_clear_func (self->rows, row_clear);
  self->grid = gtk_grid_new ();
  gtk_grid_set_column_spacing (GTK_GRID (self->grid), 14);
  gtk_grid_set_row_spacing (GTK_GRID (self->grid), 6);
  gtk_widget_set_parent (self->grid, GTK_WIDGET (self));
}
