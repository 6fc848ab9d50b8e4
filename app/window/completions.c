/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/completions.h"

#include <glib/gi18n.h>

#include "draw/display.h"
#include "window/own-tables.h"

#define MOST_WHILE_TYPING 12
#define TALLEST 260 /* pixels, before it scrolls */
#define FEW 8       /* rows that need no scrolling */
#define N_RANKS 4

struct _TrammelCompletions
{
  GObject parent_instance;

  GtkWidget *holder, *entry; /* borrowed */
  const TrammelTable *table;
  GtkWidget *popover; /* made when first needed */
  GtkWidget *list, *scrolled;
};

G_DEFINE_FINAL_TYPE (TrammelCompletions, trammel_completions, G_TYPE_OBJECT)

enum
{
  CHOSEN,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

static gboolean
is_open (TrammelCompletions *self)
{
  return self->popover && gtk_widget_get_visible (self->popover);
}

void
trammel_completions_close (TrammelCompletions *self)
{
  g_return_if_fail (TRAMMEL_IS_COMPLETIONS (self));
  if (!is_open (self))
    return;
  gtk_popover_popdown (GTK_POPOVER (self->popover));
  gtk_accessible_reset_relation (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_RELATION_ACTIVE_DESCENDANT);
}

/* --- what is offered --- */

/* Rows that match, borrowed, the best first; the user's own before others as good. Blank: all. */
static GPtrArray *
rows_matching (TrammelCompletions *self, const char *typed)
{
  GPtrArray *all = g_ptr_array_new (), *found = g_ptr_array_new ();
  const TrammelOwnRows *own = trammel_own_tables_rows (trammel_own_tables_get_default ());
  gsize n;
  const TrammelTableRow *rows = trammel_table_rows (self->table, &n);

  for (gsize i = 0; i < trammel_own_rows_count (own); i++)
    {
      const TrammelTable *table;
      const TrammelTableRow *row = trammel_own_rows_get (own, i, &table);
      if (table == self->table)
        g_ptr_array_add (all, (gpointer)row);
    }
  for (gsize i = 0; i < n; i++)
    g_ptr_array_add (all, (gpointer)&rows[i]);

  for (int rank = 0; rank < N_RANKS; rank++)
    for (guint i = 0; i < all->len; i++)
      if (*typed == '\0' ? rank == 0 : trammel_table_row_rank (g_ptr_array_index (all, i), typed) == rank)
        g_ptr_array_add (found, g_ptr_array_index (all, i));
  g_ptr_array_unref (all);
  return found;
}

static GtkWidget *
add_label (GtkWidget *box, const char *text, float xalign, GtkSizeGroup *width)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), xalign);
  gtk_size_group_add_widget (width, label);
  gtk_box_append (GTK_BOX (box), label);
  return label;
}

static GtkWidget *
make_row (const TrammelTableRow *row, GtkSizeGroup *names, GtkSizeGroup *values, GtkSizeGroup *sources)
{
  const char *name = trammel_table_row_name (row);
  g_autofree char *value = trammel_display_text (row->value);
  g_autofree char *source = trammel_table_row_source (row);
  g_autofree char *all = g_strdup_printf ("%s, %s, %s", name, value, source);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 16);
  GtkWidget *item = gtk_list_box_row_new ();

  add_label (box, name, 0, names);
  gtk_widget_add_css_class (add_label (box, value, 1, values), "numeric");
  GtkWidget *from = add_label (box, source, 0, sources);
  gtk_widget_add_css_class (from, "dim-label");
  gtk_widget_add_css_class (from, "small");
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (item), box);
  g_object_set_data_full (G_OBJECT (item), "value", g_strdup (row->value), g_free);
  gtk_accessible_update_property (GTK_ACCESSIBLE (item), GTK_ACCESSIBLE_PROPERTY_LABEL, all, -1);
  return item;
}

/* (transfer full) (nullable): the value typed, as a table holds it, when no row has it yet. */
static char *
value_to_keep (TrammelCompletions *self, GPtrArray *rows)
{
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->entry));
  g_autofree char *value = trammel_table_check (self->table, typed, NULL, NULL);
  for (guint i = 0; value && i < rows->len; i++)
    if (g_str_equal (((const TrammelTableRow *)g_ptr_array_index (rows, i))->value, value))
      return NULL;
  return g_steal_pointer (&value);
}

static GtkWidget *
make_keep_row (const char *value)
{
  g_autofree char *shown = trammel_display_text (value);
  g_autofree char *text = g_strdup_printf (_ ("Keep %s in my tables…"), shown);
  GtkWidget *label = gtk_label_new (text), *item = gtk_list_box_row_new ();
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (item), label);
  g_object_set_data_full (G_OBJECT (item), "keep", g_strdup (value), g_free);
  return item;
}

static void
fill_list (TrammelCompletions *self, GPtrArray *rows, guint most, const char *keep)
{
  g_autoptr (GtkSizeGroup) names = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  g_autoptr (GtkSizeGroup) values = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  g_autoptr (GtkSizeGroup) sources = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->list)))
    gtk_list_box_remove (GTK_LIST_BOX (self->list), child);
  for (guint i = 0; i < MIN (rows->len, most); i++)
    gtk_list_box_append (GTK_LIST_BOX (self->list), make_row (g_ptr_array_index (rows, i), names, values, sources));
  if (keep)
    gtk_list_box_append (GTK_LIST_BOX (self->list), make_keep_row (keep));
  /* Where it may scroll, it is never lower than a scroll bar. */
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scrolled), GTK_POLICY_NEVER,
                                  MIN (rows->len, most) < FEW ? GTK_POLICY_NEVER : GTK_POLICY_AUTOMATIC);
}

/* --- the list --- */

static void
activated (GtkListBox *list, GtkListBoxRow *row, TrammelCompletions *self)
{
  g_autofree char *value = g_strdup (g_object_get_data (G_OBJECT (row), "value"));
  g_autofree char *keep = g_strdup (g_object_get_data (G_OBJECT (row), "keep"));
  trammel_completions_close (self);
  g_signal_emit (self, signals[CHOSEN], 0, keep ? keep : value);
  if (keep)
    gtk_widget_activate_action (self->entry, "win.keep-in-table", "(ss)", trammel_table_key (self->table), keep);
}

/* The list takes no focus, not even when it is clicked. */
static void
make_popover (TrammelCompletions *self)
{
  self->list = gtk_list_box_new ();
  gtk_list_box_set_activate_on_single_click (GTK_LIST_BOX (self->list), TRUE);
  gtk_widget_set_can_focus (self->list, FALSE);
  gtk_widget_add_css_class (self->list, "choices");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  trammel_table_label (self->table), -1);
  g_signal_connect (self->list, "row-activated", G_CALLBACK (activated), self);

  self->scrolled = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scrolled), self->list);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (self->scrolled), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (self->scrolled), TALLEST);

  self->popover = gtk_popover_new ();
  gtk_popover_set_child (GTK_POPOVER (self->popover), self->scrolled);
  gtk_popover_set_autohide (GTK_POPOVER (self->popover), FALSE);
  gtk_popover_set_has_arrow (GTK_POPOVER (self->popover), FALSE);
  gtk_popover_set_position (GTK_POPOVER (self->popover), GTK_POS_BOTTOM);
  gtk_widget_set_halign (self->popover, GTK_ALIGN_START);
  gtk_widget_set_can_focus (self->popover, FALSE);
  gtk_widget_add_css_class (self->popover, "completions");
  gtk_widget_set_parent (self->popover, self->holder);
}

static void
open_list (TrammelCompletions *self, GPtrArray *rows, guint most, const char *keep)
{
  graphene_rect_t bounds;

  if (!self->popover)
    make_popover (self);
  fill_list (self, rows, most, keep);
  gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scrolled)), 0);
  if (!gtk_widget_compute_bounds (self->entry, self->holder, &bounds))
    return;
  GdkRectangle place = { .x = (int)bounds.origin.x,
                         .y = (int)bounds.origin.y,
                         .width = (int)bounds.size.width,
                         .height = (int)bounds.size.height };
  gtk_popover_set_pointing_to (GTK_POPOVER (self->popover), &place);
  gtk_popover_popup (GTK_POPOVER (self->popover));
}

/* Whether @rows tell somebody who typed @typed anything new. */
static gboolean
are_news (GPtrArray *rows, const char *typed)
{
  g_autofree char *stripped = g_strstrip (g_strdup (typed));

  if (*stripped == '\0' || rows->len == 0)
    return FALSE;
  const TrammelTableRow *row = g_ptr_array_index (rows, 0);
  return rows->len > 1 || g_ascii_strcasecmp (row->value, stripped) != 0;
}

void
trammel_completions_typed (TrammelCompletions *self)
{
  g_return_if_fail (TRAMMEL_IS_COMPLETIONS (self));
  if (!gtk_widget_get_mapped (self->entry) || !(gtk_widget_get_state_flags (self->entry) & GTK_STATE_FLAG_FOCUS_WITHIN))
    return;
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->entry));
  g_autoptr (GPtrArray) rows = rows_matching (self, typed);
  g_autofree char *keep = value_to_keep (self, rows);
  if (keep || are_news (rows, typed))
    open_list (self, rows, MOST_WHILE_TYPING, keep);
  else
    trammel_completions_close (self);
}

/* --- keys --- */

static void
scroll_to (TrammelCompletions *self, GtkWidget *row)
{
  GtkAdjustment *across = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scrolled));
  graphene_rect_t bounds;
  if (gtk_widget_compute_bounds (row, self->list, &bounds))
    gtk_adjustment_clamp_page (across, bounds.origin.y, bounds.origin.y + bounds.size.height);
}

/* Before the first row is none: back in what was typed. */
static void
select_by (TrammelCompletions *self, int by)
{
  GtkListBoxRow *row = gtk_list_box_get_selected_row (GTK_LIST_BOX (self->list));
  int now = row ? gtk_list_box_row_get_index (row) : -1;
  GtkListBoxRow *next = now + by < 0 ? NULL : gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), now + by);

  if (!next && by > 0)
    return;
  gtk_list_box_select_row (GTK_LIST_BOX (self->list), next);
  if (!next)
    {
      gtk_accessible_reset_relation (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_RELATION_ACTIVE_DESCENDANT);
      return;
    }
  scroll_to (self, GTK_WIDGET (next));
  gtk_accessible_update_relation (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_RELATION_ACTIVE_DESCENDANT, next, -1);
}

static gboolean
open_all (TrammelCompletions *self)
{
  g_autoptr (GPtrArray) rows = rows_matching (self, "");
  open_list (self, rows, G_MAXUINT, NULL);
  select_by (self, 1);
  return TRUE;
}

static gboolean
take_selected (TrammelCompletions *self)
{
  GtkListBoxRow *row = gtk_list_box_get_selected_row (GTK_LIST_BOX (self->list));
  if (!row)
    {
      trammel_completions_close (self);
      return FALSE;
    }
  activated (GTK_LIST_BOX (self->list), row, self);
  return TRUE;
}

gboolean
trammel_completions_key (TrammelCompletions *self, guint key, GdkModifierType state)
{
  g_return_val_if_fail (TRAMMEL_IS_COMPLETIONS (self), FALSE);
  gboolean down = key == GDK_KEY_Down || key == GDK_KEY_KP_Down, up = key == GDK_KEY_Up || key == GDK_KEY_KP_Up;

  if (!is_open (self))
    return down && (state & GDK_ALT_MASK) ? open_all (self) : FALSE;
  if (key == GDK_KEY_Escape)
    {
      trammel_completions_close (self);
      return TRUE;
    }
  if (key == GDK_KEY_Return || key == GDK_KEY_KP_Enter)
    return take_selected (self);
  /* Above the first row is what was typed, where Up means something else. */
  if (!down && !(up && gtk_list_box_get_selected_row (GTK_LIST_BOX (self->list))))
    return FALSE;
  select_by (self, down ? 1 : -1);
  return TRUE;
}

static void
trammel_completions_dispose (GObject *object)
{
  TrammelCompletions *self = TRAMMEL_COMPLETIONS (object);
  g_clear_pointer (&self->popover, gtk_widget_unparent);
  G_OBJECT_CLASS (trammel_completions_parent_class)->dispose (object);
}

static void
trammel_completions_class_init (TrammelCompletionsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = trammel_completions_dispose;
  signals[CHOSEN] = g_signal_new ("chosen", TRAMMEL_TYPE_COMPLETIONS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
trammel_completions_init (TrammelCompletions *self)
{
}

TrammelCompletions *
trammel_completions_new (GtkWidget *holder, GtkWidget *entry, const TrammelTable *table)
{
  g_return_val_if_fail (GTK_IS_WIDGET (holder) && GTK_IS_EDITABLE (entry) && table != NULL, NULL);
  TrammelCompletions *self = g_object_new (TRAMMEL_TYPE_COMPLETIONS, NULL);
  self->holder = holder;
  self->entry = entry;
  self->table = table;
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_HAS_POPUP, TRUE,
                                  GTK_ACCESSIBLE_PROPERTY_AUTOCOMPLETE, GTK_ACCESSIBLE_AUTOCOMPLETE_LIST, -1);
  return self;
}
