/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/findings-view.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/lash-sentences.h"
#include "draw/piece-drawing.h"
#include "draw/sentences.h"
#include "window/rewrite.h"

#define MOST_SUSPECTS 8
#define LARGE 1.08
#define SPACING 8

struct _TrammelFindingsView
{
  GtkWidget parent_instance;

  TrammelSession *session;
  GtkWidget *sentences, *warnings, *suspects; /* boxes of lines, which are written anew in place */
};

G_DEFINE_FINAL_TYPE (TrammelFindingsView, trammel_findings_view, GTK_TYPE_WIDGET)

typedef GtkWidget *(*MakeLine) (TrammelFindingsView *self);

/* The line after @line of @section; after none, the first. */
static GtkWidget *
next_line (TrammelFindingsView *self, GtkWidget *section, GtkWidget *line, MakeLine make)
{
  GtkWidget *next = line ? gtk_widget_get_next_sibling (line) : gtk_widget_get_first_child (section);

  if (next)
    return next;
  next = make (self);
  gtk_box_append (GTK_BOX (section), next);
  return next;
}

/* @last is the last line that is needed. */
static void
end_section (GtkWidget *section, GtkWidget *last)
{
  GtkWidget *surplus;

  while ((surplus = last ? gtk_widget_get_next_sibling (last) : gtk_widget_get_first_child (section)))
    gtk_box_remove (GTK_BOX (section), surplus);
  gtk_widget_set_visible (section, last != NULL);
}

static GtkWidget *
make_text (void)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_selectable (GTK_LABEL (label), TRUE);
  gtk_widget_set_can_focus (label, FALSE);
  gtk_widget_set_hexpand (label, TRUE);
  return label;
}

static GtkWidget *
make_sentence (TrammelFindingsView *self)
{
  GtkWidget *label = make_text ();
  PangoAttrList *attributes = pango_attr_list_new ();

  pango_attr_list_insert (attributes, pango_attr_scale_new (LARGE));
  gtk_label_set_attributes (GTK_LABEL (label), attributes);
  pango_attr_list_unref (attributes);
  return label;
}

static GtkWidget *
make_warning (TrammelFindingsView *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *icon = gtk_image_new_from_icon_name ("dialog-warning-symbolic");

  gtk_widget_set_valign (icon, GTK_ALIGN_START);
  gtk_widget_set_margin_top (icon, 2);
  gtk_accessible_update_property (GTK_ACCESSIBLE (icon), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Warning"), -1);
  gtk_widget_add_css_class (icon, "warning");
  gtk_box_append (GTK_BOX (box), icon);
  gtk_box_append (GTK_BOX (box), make_text ());
  return box;
}

static guint
row_of (GtkWidget *button)
{
  return GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "row"));
}

static void
show_clicked (GtkButton *button, TrammelFindingsView *self)
{
  trammel_session_select_reading (self->session, (int)row_of (GTK_WIDGET (button)));
  gtk_widget_activate_action (GTK_WIDGET (self), "win.show-page", "s", "readings");
}

/* What was measured moves to the row's note: it counts no more, is not lost, and the row waits to be measured again. */
static void
leave_out_clicked (GtkButton *button, TrammelFindingsView *self)
{
  const TrammelMachine *machine = trammel_session_machine (self->session);
  const TrammelReadings *readings = trammel_machine_readings (machine);
  guint row = row_of (GTK_WIDGET (button));
  TrammelReading changed;

  if (row >= trammel_readings_length (readings))
    return;
  const TrammelReading *reading = trammel_readings_get (readings, row);
  g_autofree char *measured = trammel_reading_get_text (reading, TRAMMEL_COLUMN_MEASURED, 1);
  g_autofree char *said = g_strdup_printf (_ ("left out: %s"), measured);
  g_autofree char *note = reading->note ? g_strdup_printf ("%s; %s", reading->note, said) : g_strdup (said);

  trammel_reading_copy (reading, &changed);
  changed.measured = NAN;
  g_clear_pointer (&changed.note, g_ref_string_release);
  changed.note = g_ref_string_new (note);
  g_autoptr (TrammelReadings) spliced = trammel_readings_splice (readings, row, 1, &changed, 1);
  trammel_reading_clear (&changed);
  trammel_session_edit (self->session, trammel_machine_with_readings (machine, spliced), _ ("leave out a reading"),
                        NULL);
}

static GtkWidget *
make_row_button (TrammelFindingsView *self, const char *label, GCallback clicked)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  g_signal_connect (button, "clicked", clicked, self);
  return button;
}

/* Text, Show, Leave out. */
static GtkWidget *
make_suspect (TrammelFindingsView *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *leave_out = make_row_button (self, _ ("Leave out"), G_CALLBACK (leave_out_clicked));

  gtk_widget_set_margin_start (box, 24);
  gtk_box_append (GTK_BOX (box), make_text ());
  gtk_box_append (GTK_BOX (box), make_row_button (self, _ ("Show"), G_CALLBACK (show_clicked)));
  gtk_box_append (GTK_BOX (box), leave_out);
  trammel_rewrite_tooltip (leave_out, _ ("Moves the value to the row’s note; the row can then be measured again"));
  return box;
}

static void
set_row (GtkWidget *button, guint row, const char *name)
{
  g_object_set_data (G_OBJECT (button), "row", GUINT_TO_POINTER (row));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

static void
show_suspect (GtkWidget *line, const TrammelMachine *machine, const TrammelReading *reading, guint row)
{
  int axis = trammel_machine_axis_index (machine, reading->along.axes[0]);
  gboolean rotary = axis >= 0 && trammel_axis_kind (trammel_machine_axis (machine, axis)) == TRAMMEL_AXIS_ROTARY;
  g_autofree char *words
      = trammel_piece_reading_to_words (reading, rotary ? NULL : trammel_machine_display_unit (machine));
  g_autofree char *text = g_strdup_printf (_ ("Reading %u, %s"), row + 1, words);
  g_autofree char *show = g_strdup_printf (_ ("Show reading %u among the readings"), row + 1);
  g_autofree char *leave_out = g_strdup_printf (_ ("Leave out reading %u"), row + 1);
  GtkWidget *label = gtk_widget_get_first_child (line), *button = gtk_widget_get_next_sibling (label);

  if (g_str_equal (text, gtk_label_get_text (GTK_LABEL (label))))
    return;
  gtk_label_set_text (GTK_LABEL (label), text);
  set_row (button, row, show);
  set_row (gtk_widget_get_next_sibling (button), row, leave_out);
}

static void
show_suspects (TrammelFindingsView *self, const TrammelMachine *machine, const TrammelAdjustment *adjustment)
{
  gsize n, n_fitted, shown = 0;
  const TrammelReading *rows = trammel_readings_rows (trammel_machine_readings (machine), &n);
  const TrammelFitted *fitted = trammel_adjustment_fitted (adjustment, &n_fitted);
  GtkWidget *line = NULL;

  for (gsize i = 0; i < MIN (n, n_fitted) && shown < MOST_SUSPECTS; i++)
    if (fitted[i].suspect)
      {
        line = next_line (self, self->suspects, line, make_suspect);
        show_suspect (line, machine, &rows[i], (guint)i);
        shown++;
      }
  end_section (self->suspects, line);
}

static void
show_sentences (TrammelFindingsView *self, const TrammelMachine *machine, const TrammelAdjustment *adjustment)
{
  gsize n;
  const TrammelParameter *parameters = trammel_adjustment_parameters (adjustment, &n);
  GtkWidget *line = NULL;

  for (gsize i = 0; i < n; i++)
    {
      g_autofree char *sentence = parameters[i].kind == TRAMMEL_PARAMETER_SCALE
                                      ? NULL
                                      : trammel_sentences_parameter (machine, &parameters[i]);
      if (!sentence)
        continue;
      line = next_line (self, self->sentences, line, make_sentence);
      trammel_rewrite_label (GTK_LABEL (line), sentence);
    }
  const TrammelLashAgreement *agreements = trammel_adjustment_lash (adjustment, &n);
  for (gsize i = 0; i < n; i++)
    {
      g_autofree char *sentence = trammel_sentences_lash (machine, &agreements[i]);
      line = next_line (self, self->sentences, line, make_sentence);
      trammel_rewrite_label (GTK_LABEL (line), sentence);
    }
  end_section (self->sentences, line);
}

static void
show_warnings (TrammelFindingsView *self, const TrammelAdjustment *adjustment)
{
  GtkWidget *line = NULL;

  for (const char *const *warning = trammel_adjustment_warnings (adjustment); *warning; warning++)
    {
      line = next_line (self, self->warnings, line, make_warning);
      trammel_rewrite_label (GTK_LABEL (gtk_widget_get_last_child (line)), *warning);
    }
  end_section (self->warnings, line);
}

void
trammel_findings_view_show (TrammelFindingsView *self, TrammelSession *session, const TrammelAdjustment *adjustment)
{
  g_return_if_fail (TRAMMEL_IS_FINDINGS_VIEW (self) && TRAMMEL_IS_SESSION (session) && adjustment != NULL);

  g_set_object (&self->session, session);
  const TrammelMachine *machine = trammel_session_machine (session);
  show_sentences (self, machine, adjustment);
  show_warnings (self, adjustment);
  show_suspects (self, machine, adjustment);
}

static void
trammel_findings_view_dispose (GObject *object)
{
  TrammelFindingsView *self = TRAMMEL_FINDINGS_VIEW (object);
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))))
    gtk_widget_unparent (child);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (trammel_findings_view_parent_class)->dispose (object);
}

static void
trammel_findings_view_class_init (TrammelFindingsViewClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = trammel_findings_view_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "findings");
}

static GtkWidget *
add_section (TrammelFindingsView *self)
{
  GtkWidget *section = gtk_box_new (GTK_ORIENTATION_VERTICAL, SPACING);

  gtk_widget_set_visible (section, FALSE);
  gtk_widget_insert_before (section, GTK_WIDGET (self), NULL);
  return section;
}

static void
trammel_findings_view_init (TrammelFindingsView *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), SPACING);
  self->sentences = add_section (self);
  self->warnings = add_section (self);
  self->suspects = add_section (self);
}
