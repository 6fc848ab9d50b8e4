/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/next-view.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "draw/foresight-sentences.h"
#include "draw/piece-drawing.h"
#include "window/rewrite.h"

#define MOST_SHOWN 5

/* One candidate's widgets; made once, then rewritten or hidden. */
typedef struct
{
  GtkLabel *act, *then;
  GtkWidget *button;
} Row;

struct _TrammelNextView
{
  GtkWidget parent_instance;

  TrammelSession *session;
  GArray *ranked;   /* of TrammelNext; NULL: none yet */
  char *letters;    /* that the list of axes offers, after the one that is known worst */
  gboolean filling; /* the list of axes is being written, not chosen from */
  Row rows[MOST_SHOWN];

  GtkWidget *root;
  GtkDropDown *axis;
  GtkLabel *sentence;
  GtkGrid *grid;
};

G_DEFINE_FINAL_TYPE (TrammelNextView, trammel_next_view, GTK_TYPE_WIDGET)

/* The row of the readings that waits for what @wanted is; −1: none. */
static int
waiting_row (const TrammelReadings *readings, const TrammelReading *wanted)
{
  gsize n;
  const TrammelReading *rows = trammel_readings_rows (readings, &n);

  for (gsize i = n; i-- > 0;)
    if (isnan (rows[i].measured) && rows[i].kind == wanted->kind && rows[i].has_along
        && trammel_direction_equal (&rows[i].along, &wanted->along)
        && (rows[i].nominal == wanted->nominal || (isnan (rows[i].nominal) && isnan (wanted->nominal))))
      return (int)i;
  return -1;
}

static void
add_reading (TrammelNextView *self, const TrammelReading *reading)
{
  const TrammelMachine *machine = trammel_session_machine (self->session);
  const TrammelReadings *readings = trammel_machine_readings (machine);
  const gsize n = trammel_readings_length (readings);
  g_autoptr (TrammelReadings) more = trammel_readings_splice (readings, n, 0, reading, 1);

  trammel_session_edit (self->session, trammel_machine_with_readings (machine, more), _ ("add a reading to make"),
                        NULL);
  trammel_session_select_reading (self->session, (int)n);
}

static void
act_clicked (TrammelNextView *self, GtkWidget *button)
{
  for (guint i = 0; self->ranked != NULL && i < self->ranked->len; i++)
    {
      if (self->rows[i].button != button)
        continue;
      /* The edit shows other candidates, which frees these. */
      g_autoptr (GArray) kept = g_array_ref (self->ranked);
      const TrammelReading *reading = &g_array_index (kept, TrammelNext, i).reading;
      const int row = waiting_row (trammel_machine_readings (trammel_session_machine (self->session)), reading);
      if (row < 0)
        {
          add_reading (self, reading);
          return;
        }
      trammel_session_select_reading (self->session, row);
      gtk_widget_activate_action (GTK_WIDGET (self), "win.show-page", "s", "readings");
      return;
    }
}

static GtkLabel *
make_label (float xalign, const char *style)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), xalign);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  if (style)
    gtk_widget_add_css_class (label, style);
  return GTK_LABEL (label);
}

static void
make_rows (TrammelNextView *self)
{
  for (int i = 0; i < MOST_SHOWN; i++)
    {
      Row *row = &self->rows[i];
      row->act = make_label (0, NULL);
      row->then = make_label (1, "numeric");
      row->button = gtk_button_new_with_label ("");
      gtk_widget_set_hexpand (GTK_WIDGET (row->act), TRUE);
      g_signal_connect_object (row->button, "clicked", G_CALLBACK (act_clicked), self, G_CONNECT_SWAPPED);
      gtk_grid_attach (self->grid, GTK_WIDGET (row->act), 0, i, 1, 1);
      gtk_grid_attach (self->grid, GTK_WIDGET (row->then), 1, i, 1, 1);
      gtk_grid_attach (self->grid, row->button, 2, i, 1, 1);
    }
}

/* "Travel along X, 180 mm (dial indicator)" */
static char *
short_words (const TrammelMachine *machine, const TrammelReading *reading)
{
  const int axis = trammel_machine_axis_index (machine, reading->along.axes[0]);
  const gboolean rotary
      = axis >= 0 && trammel_axis_kind (trammel_machine_axis (machine, (gsize)axis)) == TRAMMEL_AXIS_ROTARY;
  g_autofree char *words
      = trammel_piece_reading_to_words (reading, rotary ? NULL : trammel_machine_display_unit (machine));

  if (reading->instrument == NULL || *reading->instrument == '\0')
    return g_steal_pointer (&words);
  return g_strdup_printf ("%s (%s)", words, reading->instrument);
}

static void
show_row (TrammelNextView *self, Row *row, const TrammelAdjustment *adjustment, const TrammelNext *next)
{
  const TrammelMachine *machine = trammel_session_machine (self->session);
  const gboolean waits = waiting_row (trammel_machine_readings (machine), &next->reading) >= 0;
  const char *label = waits ? _ ("Show") : _ ("Add to readings");
  g_autofree char *act = short_words (machine, &next->reading);
  g_autofree char *then = trammel_sentences_scale_interval (adjustment, next->u_after);
  g_autofree char *name = g_strdup_printf (waits ? _ ("Show among the readings: %s") : _ ("Add to readings: %s"), act);

  if (g_strcmp0 (gtk_label_get_text (row->act), act) != 0
      || g_strcmp0 (gtk_button_get_label (GTK_BUTTON (row->button)), label) != 0)
    {
      gtk_button_set_label (GTK_BUTTON (row->button), label);
      gtk_accessible_update_property (GTK_ACCESSIBLE (row->button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
    }
  trammel_rewrite_label (row->act, act);
  trammel_rewrite_label (row->then, then);
}

static void
set_row_visible (const Row *row, gboolean visible)
{
  gtk_widget_set_visible (GTK_WIDGET (row->act), visible);
  gtk_widget_set_visible (GTK_WIDGET (row->then), visible);
  gtk_widget_set_visible (row->button, visible);
}

static char
chosen_letter (TrammelNextView *self)
{
  const guint selected = gtk_drop_down_get_selected (self->axis);

  if (selected == 0 || selected == GTK_INVALID_LIST_POSITION || selected > strlen (self->letters))
    return '\0';
  return self->letters[selected - 1];
}

static void
show_sentence (TrammelNextView *self, const TrammelAdjustment *adjustment)
{
  if (self->ranked->len == 0)
    {
      trammel_rewrite_label (self->sentence, _ ("No single reading would tell much more."));
      return;
    }
  g_autofree char *words = trammel_sentences_next (trammel_session_machine (self->session), adjustment,
                                                   &g_array_index (self->ranked, TrammelNext, 0));
  trammel_rewrite_label (self->sentence, words);
}

static void
rank (TrammelNextView *self, const TrammelAdjustment *adjustment)
{
  const TrammelAdjustOptions how
      = { .scatter = trammel_session_scatter (self->session), .robust = trammel_session_robust (self->session) };

  g_clear_pointer (&self->ranked, g_array_unref);
  self->ranked = trammel_machine_next (trammel_session_machine (self->session), adjustment, &how, chosen_letter (self),
                                       MOST_SHOWN);
  show_sentence (self, adjustment);
  for (guint i = 0; i < MOST_SHOWN; i++)
    {
      set_row_visible (&self->rows[i], i < self->ranked->len);
      if (i < self->ranked->len)
        show_row (self, &self->rows[i], adjustment, &g_array_index (self->ranked, TrammelNext, i));
    }
}

static void
axis_chosen (TrammelNextView *self)
{
  const TrammelAdjustment *adjustment
      = self->session && !self->filling ? trammel_session_adjustment (self->session, NULL) : NULL;

  if (adjustment)
    rank (self, adjustment);
}

/* "The worst", then every axis; what was chosen stays chosen where its axis is still there. */
static void
fill_axes (TrammelNextView *self, const TrammelMachine *machine)
{
  g_autoptr (GString) letters = g_string_new (NULL);

  for (gsize i = 0; i < trammel_machine_n_axes (machine); i++)
    g_string_append_c (letters, trammel_axis_letter (trammel_machine_axis (machine, i)));
  if (g_strcmp0 (letters->str, self->letters) == 0)
    return;

  const char chosen = self->letters ? chosen_letter (self) : '\0';
  GtkStringList *names = gtk_string_list_new (NULL);
  gtk_string_list_append (names, _ ("Known worst"));
  for (gsize i = 0; i < letters->len; i++)
    gtk_string_list_append (names, (const char[]){ letters->str[i], '\0' });
  const char *place = chosen ? strchr (letters->str, chosen) : NULL;
  g_free (self->letters);
  self->letters = g_strdup (letters->str);
  self->filling = TRUE;
  gtk_drop_down_set_model (self->axis, G_LIST_MODEL (names));
  gtk_drop_down_set_selected (self->axis, place ? (guint)(place - letters->str) + 1 : 0);
  self->filling = FALSE;
  g_object_unref (names);
}

void
trammel_next_view_show (TrammelNextView *self, TrammelSession *session, const TrammelAdjustment *adjustment)
{
  g_return_if_fail (TRAMMEL_IS_NEXT_VIEW (self) && TRAMMEL_IS_SESSION (session) && adjustment != NULL);

  g_set_object (&self->session, session);
  fill_axes (self, trammel_session_machine (session));
  rank (self, adjustment);
}

static void
trammel_next_view_dispose (GObject *object)
{
  TrammelNextView *self = TRAMMEL_NEXT_VIEW (object);
  g_clear_object (&self->session);
  g_clear_pointer (&self->root, gtk_widget_unparent);
  G_OBJECT_CLASS (trammel_next_view_parent_class)->dispose (object);
}

static void
trammel_next_view_finalize (GObject *object)
{
  TrammelNextView *self = TRAMMEL_NEXT_VIEW (object);
  g_clear_pointer (&self->ranked, g_array_unref);
  g_free (self->letters);
  G_OBJECT_CLASS (trammel_next_view_parent_class)->finalize (object);
}

static void
trammel_next_view_class_init (TrammelNextViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = trammel_next_view_dispose;
  G_OBJECT_CLASS (klass)->finalize = trammel_next_view_finalize;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/next-view.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelNextView, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelNextView, axis);
  gtk_widget_class_bind_template_child (widget_class, TrammelNextView, sentence);
  gtk_widget_class_bind_template_child (widget_class, TrammelNextView, grid);
  gtk_widget_class_bind_template_callback (widget_class, axis_chosen);
}

static void
trammel_next_view_init (TrammelNextView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  make_rows (self);
}
