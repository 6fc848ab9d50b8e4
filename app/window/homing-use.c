/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/homing-use.h"

#include <glib/gi18n.h>
#include <string.h>

#include "draw/display.h"
#include "draw/homing-sentences.h"
#include "window/amount-entry.h"
#include "window/rewrite.h"
#include "window/sentence-lines.h"

typedef enum
{
  ENTRY_LAYER,
  ENTRY_SPEED,
  ENTRY_DELAY,
  ENTRY_GAUGE,
  N_ENTRIES
} Entry;

struct _TrammelHomingUse
{
  GtkWidget parent_instance;

  TrammelHoming homing;
  const TrammelUnit *unit; /* NULL: nothing is shown yet */
  gboolean has_layer;

  TrammelAmountEntry *entries[N_ENTRIES];
  GtkWidget *touches; /* entry: where the gauge was touched */
  gboolean typing;    /* in it */
  GtkWidget *touches_trouble;
  GtkWidget *sentences;
};

G_DEFINE_FINAL_TYPE (TrammelHomingUse, trammel_homing_use, GTK_TYPE_WIDGET)

/* What it means */

static gboolean
read_entry (TrammelHomingUse *self, Entry entry, TrammelAmount *out)
{
  return trammel_amount_entry_read (self->entries[entry], out) == TRAMMEL_AMOUNT_READ;
}

static void
add_layer (TrammelHomingUse *self, GPtrArray *sentences)
{
  TrammelAmount layer;

  if (self->has_layer && read_entry (self, ENTRY_LAYER, &layer))
    g_ptr_array_add (sentences, trammel_sentences_homing_layer (&self->homing, layer.value, self->unit));
}

static void
add_floor (TrammelHomingUse *self, GPtrArray *sentences)
{
  TrammelAmount speed, delay;

  if (!read_entry (self, ENTRY_SPEED, &speed) || !read_entry (self, ENTRY_DELAY, &delay))
    return;
  g_autoptr (GPtrArray) of_floor = trammel_sentences_homing_floor (&self->homing, speed.value, delay.value, self->unit);
  for (guint i = 0; i < of_floor->len; i++)
    g_ptr_array_add (sentences, g_strdup (g_ptr_array_index (of_floor, i)));
}

/* Between touches stands what cannot stand within one. */
static char **
split_touches (const char *text)
{
  const gboolean comma = g_str_equal (trammel_display_decimal_sign (), ",");

  return g_strsplit_set (text, strchr (text, ';') || comma ? ";" : ";,", -1);
}

/* (transfer full) (nullable): of double, mm; NULL where nothing is typed or it cannot be read, which is shown then. */
static GArray *
read_touches (TrammelHomingUse *self)
{
  g_auto (GStrv) parts = split_touches (gtk_editable_get_text (GTK_EDITABLE (self->touches)));
  g_autoptr (GArray) touches = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr (GError) error = NULL;
  gboolean refused = FALSE;

  for (char **part = parts; *part && !refused; part++)
    {
      double touch;
      if (*g_strstrip (*part) == '\0')
        continue;
      if (trammel_quantity_parse_value (*part, TRAMMEL_DIMENSION_LENGTH, self->unit, &touch, &error))
        g_array_append_val (touches, touch);
      else
        refused = TRUE;
    }
  const gboolean told = refused && !self->typing;
  trammel_rewrite_refused (self->touches, told);
  trammel_rewrite_label (GTK_LABEL (self->touches_trouble), told ? error->message : NULL);
  gtk_widget_set_visible (self->touches_trouble, told);
  return refused || touches->len == 0 ? NULL : g_steal_pointer (&touches);
}

static void
add_offset (TrammelHomingUse *self, GPtrArray *sentences)
{
  g_autoptr (GArray) touches = read_touches (self);
  TrammelAmount gauge = { 0, 0 };

  if (!touches || trammel_amount_entry_read (self->entries[ENTRY_GAUGE], &gauge) == TRAMMEL_AMOUNT_REFUSED)
    return;
  const TrammelHomingOffset offset = trammel_homing_offset ((const double *)(gconstpointer)touches->data, touches->len,
                                                            &self->homing, gauge.value, gauge.u);
  g_ptr_array_add (sentences, trammel_sentences_homing_offset (&offset, self->unit));
}

static void
tell (TrammelHomingUse *self)
{
  g_autoptr (GPtrArray) sentences = g_ptr_array_new_with_free_func (g_free);

  if (!self->unit)
    return;
  add_layer (self, sentences);
  add_floor (self, sentences);
  add_offset (self, sentences);
  trammel_sentence_lines_show (GTK_BOX (self->sentences), sentences, NULL);
}

void
trammel_homing_use_show (TrammelHomingUse *self, const TrammelHoming *homing, const TrammelUnit *unit,
                         const char *layer)
{
  g_return_if_fail (TRAMMEL_IS_HOMING_USE (self) && homing != NULL && unit != NULL);

  const gboolean inch = unit != trammel_unit_base (TRAMMEL_DIMENSION_LENGTH);
  self->homing = *homing;
  self->unit = unit;
  self->has_layer = layer != NULL;
  trammel_amount_entry_set_usual (self->entries[ENTRY_LAYER], layer);
  trammel_amount_entry_set_unit (self->entries[ENTRY_LAYER], unit);
  trammel_amount_entry_set_unit (self->entries[ENTRY_SPEED],
                                 trammel_unit_find (TRAMMEL_DIMENSION_SPEED, inch ? "in/s" : "mm/s"));
  trammel_amount_entry_set_unit (self->entries[ENTRY_DELAY], trammel_unit_find (TRAMMEL_DIMENSION_TIME, "ms"));
  trammel_amount_entry_set_unit (self->entries[ENTRY_GAUGE], unit);
  trammel_rewrite_placeholder (GTK_ENTRY (self->touches), inch ? _ ("0.056; 0.057") : _ ("1.42; 1.43; 1.41"));
  gtk_widget_set_visible (GTK_WIDGET (self->entries[ENTRY_LAYER]), self->has_layer);
  tell (self);
}

static void
touches_typed (TrammelHomingUse *self)
{
  self->typing = TRUE;
  tell (self);
}

static void
touches_finished (TrammelHomingUse *self)
{
  self->typing = FALSE;
  tell (self);
}

/* How it is made */

static void
make_entries (TrammelHomingUse *self, GtkSizeGroup *labels)
{
  const TrammelAmountKind kinds[N_ENTRIES] = {
    [ENTRY_LAYER] = { .label = _ ("First layer"),
                      .meaning = _ ("Height of the first layer, which every home decides anew"),
                      .dimension = TRAMMEL_DIMENSION_LENGTH },
    [ENTRY_SPEED] = { .label = _ ("Approached at"),
                      .meaning = _ ("How fast the switch is approached"),
                      .dimension = TRAMMEL_DIMENSION_SPEED },
    [ENTRY_DELAY] = { .label = _ ("Looked at every"),
                      .meaning = _ ("How long the controller may take to see that the switch has fired"),
                      .dimension = TRAMMEL_DIMENSION_TIME },
    [ENTRY_GAUGE]
    = { .label = _ ("Gauge"),
        .meaning = _ ("Thickness of the gauge that lay on the bed; blank where the bed itself was touched"),
        .dimension = TRAMMEL_DIMENSION_LENGTH,
        .has_u = TRUE },
  };

  for (int i = 0; i < N_ENTRIES; i++)
    {
      self->entries[i] = TRAMMEL_AMOUNT_ENTRY (trammel_amount_entry_new (&kinds[i], labels));
      gtk_widget_set_halign (GTK_WIDGET (self->entries[i]), GTK_ALIGN_START);
      g_signal_connect_swapped (self->entries[i], "changed", G_CALLBACK (tell), self);
      gtk_widget_insert_before (GTK_WIDGET (self->entries[i]), GTK_WIDGET (self), NULL);
    }
}

static void
make_touches (TrammelHomingUse *self, GtkSizeGroup *labels)
{
  GtkEventController *focus = gtk_event_controller_focus_new ();
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *label = gtk_label_new (_ ("Bed touched at"));
  const char *meaning
      = _ ("Where the bed, or a gauge on it, was just touched, each time after a home of its own, from the "
           "switch on; several with ; between them");

  self->touches = gtk_entry_new ();
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "dim-label");
  gtk_size_group_add_widget (labels, label);
  gtk_editable_set_width_chars (GTK_EDITABLE (self->touches), 18);
  trammel_rewrite_tooltip (self->touches, meaning);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->touches), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Bed touched at"),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, meaning, -1);
  g_signal_connect_swapped (self->touches, "changed", G_CALLBACK (touches_typed), self);
  g_signal_connect_swapped (self->touches, "activate", G_CALLBACK (touches_finished), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (touches_finished), self);
  gtk_widget_add_controller (self->touches, focus);
  gtk_box_append (GTK_BOX (row), label);
  gtk_box_append (GTK_BOX (row), self->touches);
  gtk_widget_insert_before (row, GTK_WIDGET (self), GTK_WIDGET (self->entries[ENTRY_GAUGE]));
  self->touches_trouble = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (self->touches_trouble), 0);
  gtk_label_set_wrap (GTK_LABEL (self->touches_trouble), TRUE);
  gtk_widget_add_css_class (self->touches_trouble, "trouble");
  gtk_widget_set_visible (self->touches_trouble, FALSE);
  gtk_widget_insert_before (self->touches_trouble, GTK_WIDGET (self), GTK_WIDGET (self->entries[ENTRY_GAUGE]));
}

static void
trammel_homing_use_dispose (GObject *object)
{
  TrammelHomingUse *self = TRAMMEL_HOMING_USE (object);
  GtkWidget *child;

  self->unit = NULL;
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))))
    gtk_widget_unparent (child);
  G_OBJECT_CLASS (trammel_homing_use_parent_class)->dispose (object);
}

static void
trammel_homing_use_class_init (TrammelHomingUseClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = trammel_homing_use_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "hominguse");
}

static void
trammel_homing_use_init (TrammelHomingUse *self)
{
  g_autoptr (GtkSizeGroup) labels = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 6);
  make_entries (self, labels);
  make_touches (self, labels);
  self->sentences = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  gtk_widget_insert_before (self->sentences, GTK_WIDGET (self), NULL);
}
