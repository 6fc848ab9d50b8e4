/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/tables-window.h"

#include <glib/gi18n.h>

#include "draw/display.h"
#include "window/own-tables.h"

struct _TrammelTablesWindow
{
  GtkWindow parent_instance;

  GtkWidget *troubles, *list, *trouble;
  GtkWidget *news;
  GtkLabel *news_text;
  GtkDropDown *table;
  GtkEditable *name, *value, *source;

  /* The row that was removed last, to be put back; @removed_from NULL: none */
  const TrammelTable *removed_from;
  char *removed_name, *removed_value, *removed_source;
};

G_DEFINE_FINAL_TYPE (TrammelTablesWindow, trammel_tables_window, GTK_TYPE_WINDOW)

static void
say_trouble (TrammelTablesWindow *self, const char *reason)
{
  gtk_label_set_text (GTK_LABEL (self->trouble), reason ? reason : "");
  gtk_widget_set_visible (self->trouble, reason != NULL);
}

/* What of the file could not be read. */
static void
show_troubles (TrammelTablesWindow *self)
{
  TrammelOwnTables *own = trammel_own_tables_get_default ();
  const char *whole = trammel_own_tables_trouble (own);
  g_autofree char *lines = g_strjoinv ("\n", (char **)trammel_own_rows_troubles (trammel_own_tables_rows (own)));
  g_autofree char *path = trammel_own_rows_path ();
  g_autofree char *text = NULL;

  if (whole)
    text = g_strdup_printf (_ ("The file of your rows cannot be read; it stays as it is.\n%s"), whole);
  else if (*lines)
    text = g_strdup_printf (_ ("These lines of %s cannot be read; they stay as they are.\n%s"), path, lines);
  gtk_label_set_text (GTK_LABEL (self->troubles), text ? text : "");
  gtk_widget_set_visible (self->troubles, text != NULL);
}

/* Removing, and putting back what was removed last */

static void
forget_removed (TrammelTablesWindow *self)
{
  self->removed_from = NULL;
  g_clear_pointer (&self->removed_name, g_free);
  g_clear_pointer (&self->removed_value, g_free);
  g_clear_pointer (&self->removed_source, g_free);
  gtk_widget_set_visible (self->news, FALSE);
}

static void
remember_removed (TrammelTablesWindow *self, gsize i)
{
  const TrammelTableRow *row
      = trammel_own_rows_get (trammel_own_tables_rows (trammel_own_tables_get_default ()), i, &self->removed_from);
  self->removed_name = g_strdup (row->name);
  self->removed_value = g_strdup (row->value);
  self->removed_source = g_strdup (row->source);
}

static void
removed (GtkWidget *button, TrammelTablesWindow *self)
{
  g_autoptr (GError) error = NULL;
  GtkWidget *row = gtk_widget_get_ancestor (button, GTK_TYPE_LIST_BOX_ROW);
  gsize i = (gsize)gtk_list_box_row_get_index (GTK_LIST_BOX_ROW (row));
  forget_removed (self);
  remember_removed (self, i);
  if (!trammel_own_tables_remove (trammel_own_tables_get_default (), i, &error))
    {
      forget_removed (self);
      say_trouble (self, error->message);
      return;
    }
  g_autofree char *text = g_strdup_printf (_ ("%s was removed."), self->removed_name);
  say_trouble (self, NULL);
  gtk_label_set_text (self->news_text, text);
  gtk_widget_set_visible (self->news, TRUE);
}

static void
put_back (TrammelTablesWindow *self)
{
  g_autoptr (GError) error = NULL;
  if (!self->removed_from)
    return;
  if (trammel_own_tables_add (trammel_own_tables_get_default (), self->removed_from, self->removed_name,
                              self->removed_value, self->removed_source, NULL, &error))
    forget_removed (self);
  else
    say_trouble (self, error->message);
}

static gboolean
undo_pressed (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  TrammelTablesWindow *self = TRAMMEL_TABLES_WINDOW (widget);
  if (!self->removed_from)
    return FALSE;
  put_back (self);
  return TRUE;
}

static GtkWidget *
add_label (GtkWidget *box, const char *text, GtkSizeGroup *width, const char *class)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  if (width)
    gtk_size_group_add_widget (width, label);
  if (class)
    gtk_widget_add_css_class (label, class);
  gtk_box_append (GTK_BOX (box), label);
  return label;
}

static GtkWidget *
make_row (TrammelTablesWindow *self, const TrammelTableRow *row, const TrammelTable *table, GtkSizeGroup **columns)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 16);
  GtkWidget *remove = gtk_button_new_from_icon_name ("list-remove-symbolic");
  g_autofree char *value = trammel_display_text (row->value);
  g_autofree char *label = g_strdup_printf (_ ("Remove %s"), row->name);

  add_label (box, trammel_table_label (table), columns[0], "dim-label");
  add_label (box, row->name, columns[1], NULL);
  add_label (box, value, columns[2], "numeric");
  gtk_widget_set_hexpand (add_label (box, row->source, NULL, "dim-label"), TRUE);
  gtk_button_set_has_frame (GTK_BUTTON (remove), FALSE);
  gtk_widget_set_tooltip_text (remove, label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (remove), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  g_signal_connect (remove, "clicked", G_CALLBACK (removed), self);
  gtk_box_append (GTK_BOX (box), remove);
  return box;
}

static void
show_rows (TrammelTablesWindow *self)
{
  const TrammelOwnRows *rows = trammel_own_tables_rows (trammel_own_tables_get_default ());
  g_autoptr (GtkSizeGroup) labels = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  g_autoptr (GtkSizeGroup) names = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  g_autoptr (GtkSizeGroup) values = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  GtkSizeGroup *columns[] = { labels, names, values };
  GtkListBox *list = GTK_LIST_BOX (self->list);
  GtkListBoxRow *old;

  while ((old = gtk_list_box_get_row_at_index (list, 0)))
    gtk_list_box_remove (list, GTK_WIDGET (old));
  for (gsize i = 0; i < trammel_own_rows_count (rows); i++)
    {
      const TrammelTable *table;
      const TrammelTableRow *row = trammel_own_rows_get (rows, i, &table);
      GtkWidget *item = gtk_list_box_row_new ();
      gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (item), make_row (self, row, table, columns));
      gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (item), FALSE);
      gtk_list_box_append (list, item);
    }
  show_troubles (self);
}

static void
add (TrammelTablesWindow *self)
{
  g_autoptr (GError) error = NULL;
  gsize n;
  const TrammelTable *const *tables = trammel_tables (&n);
  guint i = gtk_drop_down_get_selected (self->table);

  if (i >= n)
    return;
  if (!trammel_own_tables_add (trammel_own_tables_get_default (), tables[i], gtk_editable_get_text (self->name),
                               gtk_editable_get_text (self->value), gtk_editable_get_text (self->source), NULL, &error))
    {
      say_trouble (self, error->message);
      return;
    }
  say_trouble (self, NULL);
  gtk_editable_set_text (self->name, "");
  gtk_editable_set_text (self->value, "");
  gtk_editable_set_text (self->source, "");
  gtk_widget_grab_focus (GTK_WIDGET (self->name));
}

static void
prepare (TrammelTablesWindow *self, const char *key, const char *value)
{
  gsize n;
  const TrammelTable *const *tables = trammel_tables (&n);
  g_autofree char *shown = trammel_display_text (value);

  for (gsize i = 0; i < n; i++)
    if (g_str_equal (trammel_table_key (tables[i]), key))
      gtk_drop_down_set_selected (self->table, (guint)i);
  gtk_editable_set_text (self->value, shown);
  gtk_widget_grab_focus (GTK_WIDGET (self->name));
}

void
trammel_tables_window_show (GtkWindow *parent, const char *key, const char *value)
{
  g_return_if_fail (GTK_IS_WINDOW (parent));
  static TrammelTablesWindow *window;

  if (!window)
    {
      window = g_object_new (TRAMMEL_TYPE_TABLES_WINDOW, NULL);
      g_object_add_weak_pointer (G_OBJECT (window), (gpointer *)&window);
    }
  gtk_window_set_transient_for (GTK_WINDOW (window), parent);
  gtk_window_set_destroy_with_parent (GTK_WINDOW (window), TRUE);
  if (key && value)
    prepare (window, key, value);
  gtk_window_present (GTK_WINDOW (window));
}

static void
trammel_tables_window_finalize (GObject *object)
{
  TrammelTablesWindow *self = TRAMMEL_TABLES_WINDOW (object);
  g_free (self->removed_name);
  g_free (self->removed_value);
  g_free (self->removed_source);
  G_OBJECT_CLASS (trammel_tables_window_parent_class)->finalize (object);
}

static void
trammel_tables_window_class_init (TrammelTablesWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = trammel_tables_window_finalize;
  gtk_widget_class_add_binding (widget_class, GDK_KEY_z, GDK_CONTROL_MASK, undo_pressed, NULL);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/tables-window.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelTablesWindow, troubles);
  gtk_widget_class_bind_template_child (widget_class, TrammelTablesWindow, list);
  gtk_widget_class_bind_template_child (widget_class, TrammelTablesWindow, trouble);
  gtk_widget_class_bind_template_child (widget_class, TrammelTablesWindow, news);
  gtk_widget_class_bind_template_child (widget_class, TrammelTablesWindow, news_text);
  gtk_widget_class_bind_template_child (widget_class, TrammelTablesWindow, table);
  gtk_widget_class_bind_template_child (widget_class, TrammelTablesWindow, name);
  gtk_widget_class_bind_template_child (widget_class, TrammelTablesWindow, value);
  gtk_widget_class_bind_template_child (widget_class, TrammelTablesWindow, source);
  gtk_widget_class_bind_template_callback (widget_class, add);
  gtk_widget_class_bind_template_callback (widget_class, put_back);
}

static void
trammel_tables_window_init (TrammelTablesWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  g_autoptr (GtkStringList) labels = gtk_string_list_new (NULL);
  gsize n;
  const TrammelTable *const *tables = trammel_tables (&n);
  for (gsize i = 0; i < n; i++)
    gtk_string_list_append (labels, trammel_table_label (tables[i]));
  gtk_drop_down_set_model (self->table, G_LIST_MODEL (labels));

  g_signal_connect_object (trammel_own_tables_get_default (), "changed", G_CALLBACK (show_rows), self,
                           G_CONNECT_SWAPPED);
  show_rows (self);
}
