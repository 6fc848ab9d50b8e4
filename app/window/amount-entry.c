/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/amount-entry.h"

#include <glib/gi18n.h>

#include "draw/display.h"
#include "window/completions.h"
#include "window/rewrite.h"

struct _TrammelAmountEntry
{
  GtkWidget parent_instance;

  TrammelAmountKind kind;
  const TrammelUnit *unit;
  char *usual; /* (nullable) */
  TrammelCompletions *completions;
  gboolean filling;
  GtkWidget *typing; /* the entry that somebody is typing in; NULL: none */
  TrammelAmountState state;
  TrammelAmount amount;

  GtkWidget *row;
  GtkWidget *value;
  GtkWidget *u; /* NULL: not asked for */
  GtkWidget *trouble;
};

G_DEFINE_FINAL_TYPE (TrammelAmountEntry, trammel_amount_entry, GTK_TYPE_WIDGET)

static guint changed_signal;

/* What is typed */

static gboolean
is_blank (GtkWidget *entry)
{
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry))));
  return *text == '\0';
}

static TrammelAmountState
read_value (TrammelAmountEntry *self, TrammelAmount *out, GError **error)
{
  const char *text = is_blank (self->value) ? self->usual : gtk_editable_get_text (GTK_EDITABLE (self->value));

  if (!text)
    return TRAMMEL_AMOUNT_BLANK;
  if (!trammel_amount_parse (text, self->kind.dimension, self->unit, out, error))
    return TRAMMEL_AMOUNT_REFUSED;
  if (out->value > 0)
    return TRAMMEL_AMOUNT_READ;
  g_set_error (error, G_IO_ERROR, G_IO_ERROR_INVALID_ARGUMENT, _ ("found “%s”; a value above 0 is wanted"), text);
  return TRAMMEL_AMOUNT_REFUSED;
}

static gboolean
read_u (TrammelAmountEntry *self, double *out, GError **error)
{
  if (!self->u || is_blank (self->u))
    return TRUE;
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->u));
  if (!trammel_quantity_parse_value (text, self->kind.dimension, self->unit, out, error))
    return FALSE;
  if (*out >= 0)
    return TRUE;
  g_set_error (error, G_IO_ERROR, G_IO_ERROR_INVALID_ARGUMENT, _ ("found “%s”; an uncertainty of 0 or more is wanted"),
               text);
  return FALSE;
}

static void
show_trouble (TrammelAmountEntry *self, GtkWidget *entry, const char *reason)
{
  const gboolean told = entry && entry != self->typing;

  trammel_rewrite_refused (self->value, told && entry == self->value);
  if (self->u)
    trammel_rewrite_refused (self->u, told && entry == self->u);
  trammel_rewrite_label (GTK_LABEL (self->trouble), told ? reason : NULL);
  gtk_widget_set_visible (self->trouble, told);
}

static void
take_over (TrammelAmountEntry *self)
{
  g_autoptr (GError) error = NULL;
  TrammelAmount amount = { 0 };
  GtkWidget *at_fault = NULL;
  TrammelAmountState state = read_value (self, &amount, &error);

  if (state == TRAMMEL_AMOUNT_REFUSED)
    at_fault = self->value;
  else if (!read_u (self, &amount.u, &error))
    {
      state = TRAMMEL_AMOUNT_REFUSED;
      at_fault = self->u;
    }
  show_trouble (self, at_fault, error ? error->message : NULL);
  const gboolean same
      = state == self->state
        && (state != TRAMMEL_AMOUNT_READ || (amount.value == self->amount.value && amount.u == self->amount.u));
  self->state = state;
  self->amount = amount;
  if (!same)
    g_signal_emit (self, changed_signal, 0);
}

static void
typed (GtkEditable *editable, TrammelAmountEntry *self)
{
  if (self->filling)
    return;
  self->typing = GTK_WIDGET (editable);
  take_over (self);
  if (self->completions && self->typing == self->value)
    trammel_completions_typed (self->completions);
}

static void
finished (TrammelAmountEntry *self)
{
  if (self->completions)
    trammel_completions_close (self->completions);
  self->typing = NULL;
  take_over (self);
}

static void
row_chosen (TrammelAmountEntry *self, const char *value)
{
  trammel_amount_entry_set_text (self, value);
}

static gboolean
key_pressed (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state, TrammelAmountEntry *self)
{
  return trammel_completions_key (self->completions, key, state);
}

/* How it is made */

static void
offer_rows (TrammelAmountEntry *self, const TrammelTable *table)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->completions = trammel_completions_new (GTK_WIDGET (self), self->value, table);
  g_signal_connect_swapped (self->completions, "chosen", G_CALLBACK (row_chosen), self);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed), self);
  gtk_widget_add_controller (self->value, keys);
}

static GtkWidget *
add_entry (TrammelAmountEntry *self, int width, const char *name, const char *meaning)
{
  GtkWidget *entry = gtk_entry_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  gtk_editable_set_width_chars (GTK_EDITABLE (entry), width);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), width + 2);
  gtk_editable_set_alignment (GTK_EDITABLE (entry), 1);
  g_signal_connect (entry, "changed", G_CALLBACK (typed), self);
  g_signal_connect_swapped (entry, "activate", G_CALLBACK (finished), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (finished), self);
  gtk_widget_add_controller (entry, focus);
  trammel_rewrite_tooltip (entry, meaning);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, meaning, -1);
  gtk_box_append (GTK_BOX (self->row), entry);
  return entry;
}

static void
add_label (TrammelAmountEntry *self, GtkSizeGroup *labels)
{
  GtkWidget *label = gtk_label_new (self->kind.label);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_natural_wrap_mode (GTK_LABEL (label), GTK_NATURAL_WRAP_NONE);
  gtk_widget_add_css_class (label, "dim-label");
  gtk_box_append (GTK_BOX (self->row), label);
  if (labels)
    gtk_size_group_add_widget (labels, label);
}

static void
add_u (TrammelAmountEntry *self)
{
  /* translators: a quantity, "Filament diameter, standard uncertainty" */
  g_autofree char *name = g_strdup_printf (_ ("%s, standard uncertainty"), self->kind.label);

  gtk_box_append (GTK_BOX (self->row), gtk_label_new ("±"));
  self->u = add_entry (self, 5, name, _ ("Its standard uncertainty; blank where that is not known"));
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->u), "u");
}

static void
trammel_amount_entry_dispose (GObject *object)
{
  TrammelAmountEntry *self = TRAMMEL_AMOUNT_ENTRY (object);

  if (self->value)
    g_signal_handlers_disconnect_by_data (self->value, self);
  if (self->u)
    g_signal_handlers_disconnect_by_data (self->u, self);
  self->value = self->u = NULL;
  g_clear_object (&self->completions);
  g_clear_pointer (&self->row, gtk_widget_unparent);
  g_clear_pointer (&self->trouble, gtk_widget_unparent);
  g_clear_pointer (&self->usual, g_free);
  G_OBJECT_CLASS (trammel_amount_entry_parent_class)->dispose (object);
}

static void
trammel_amount_entry_class_init (TrammelAmountEntryClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = trammel_amount_entry_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "amountentry");
  changed_signal
      = g_signal_new ("changed", TRAMMEL_TYPE_AMOUNT_ENTRY, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
trammel_amount_entry_init (TrammelAmountEntry *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  self->row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  gtk_widget_set_parent (self->row, GTK_WIDGET (self));
  self->trouble = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (self->trouble), 0);
  gtk_label_set_wrap (GTK_LABEL (self->trouble), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (self->trouble), 24);
  gtk_widget_add_css_class (self->trouble, "trouble");
  gtk_widget_set_visible (self->trouble, FALSE);
  gtk_widget_set_parent (self->trouble, GTK_WIDGET (self));
}

GtkWidget *
trammel_amount_entry_new (const TrammelAmountKind *kind, GtkSizeGroup *labels)
{
  g_return_val_if_fail (kind != NULL && kind->label != NULL, NULL);

  TrammelAmountEntry *self = g_object_new (TRAMMEL_TYPE_AMOUNT_ENTRY, NULL);
  const TrammelTable *table = kind->table ? trammel_table_find (kind->table) : NULL;
  self->kind = *kind;
  add_label (self, labels);
  self->value = add_entry (self, 8, kind->label, kind->meaning);
  gtk_widget_set_hexpand (self->value, TRUE);
  if (kind->has_u)
    add_u (self);
  if (table)
    offer_rows (self, table);
  return GTK_WIDGET (self);
}

/* What counts */

static void
show_placeholder (TrammelAmountEntry *self)
{
  g_autofree char *usual = self->usual ? trammel_display_text (self->usual) : NULL;

  trammel_rewrite_placeholder (GTK_ENTRY (self->value), usual        ? usual
                                                        : self->unit ? trammel_unit_symbol (self->unit)
                                                                     : NULL);
}

void
trammel_amount_entry_set_unit (TrammelAmountEntry *self, const TrammelUnit *unit)
{
  g_return_if_fail (TRAMMEL_IS_AMOUNT_ENTRY (self));

  if (self->unit == unit)
    return;
  self->unit = unit;
  show_placeholder (self);
  take_over (self);
}

void
trammel_amount_entry_set_usual (TrammelAmountEntry *self, const char *text)
{
  g_return_if_fail (TRAMMEL_IS_AMOUNT_ENTRY (self));

  if (g_strcmp0 (self->usual, text) == 0)
    return;
  g_free (self->usual);
  self->usual = g_strdup (text);
  show_placeholder (self);
  take_over (self);
}

TrammelAmountState
trammel_amount_entry_read (TrammelAmountEntry *self, TrammelAmount *out)
{
  g_return_val_if_fail (TRAMMEL_IS_AMOUNT_ENTRY (self) && out != NULL, TRAMMEL_AMOUNT_BLANK);

  if (self->state == TRAMMEL_AMOUNT_READ)
    *out = self->amount;
  return self->state;
}

gboolean
trammel_amount_entry_is_typed (TrammelAmountEntry *self)
{
  g_return_val_if_fail (TRAMMEL_IS_AMOUNT_ENTRY (self), FALSE);

  return !is_blank (self->value);
}

void
trammel_amount_entry_set_text (TrammelAmountEntry *self, const char *text)
{
  g_return_if_fail (TRAMMEL_IS_AMOUNT_ENTRY (self) && text != NULL);

  g_autofree char *shown = trammel_display_text (text);
  self->filling = TRUE;
  gtk_editable_set_text (GTK_EDITABLE (self->value), shown);
  gtk_editable_set_position (GTK_EDITABLE (self->value), -1);
  self->filling = FALSE;
  finished (self);
}
