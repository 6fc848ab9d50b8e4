/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/bead-panel.h"

#include <glib/gi18n.h>
#include <math.h>

#include "base/number.h"
#include "draw/bead-sentences.h"
#include "window/amount-entry.h"
#include "window/rewrite.h"

#define MM_STEP 1e-3
#define INCH_STEP 1e-4

/* The rows of the two lists, in order. */
typedef enum
{
  ASK_SPEED,
  ASK_WIDTH,
  ASK_FLOW,
} Ask;

typedef enum
{
  BY_FEED,
  BY_LENGTH,
  BY_MASS,
} By;

struct _TrammelBeadPanel
{
  GtkWidget parent_instance;

  TrammelSession *session;
  TrammelAmountEntry *entries[TRAMMEL_BEAD_N_GIVEN];
  TrammelBead bead;
  gboolean is_solved;

  GtkWidget *root;
  GtkDropDown *ask;
  GtkDropDown *by;
  GtkBox *form;
  GtkLabel *answer;
  GtkGrid *lines;
  GtkLabel *note;
  GtkButton *use;
  GtkLabel *caution;
};

G_DEFINE_FINAL_TYPE (TrammelBeadPanel, trammel_bead_panel, GTK_TYPE_WIDGET)

/* The parameters of the test piece that count where nothing is typed, and which can be set from here. */
static const struct
{
  TrammelBeadGiven which;
  const char *key;
} parameters[] = {
  { TRAMMEL_BEAD_WIDTH, "bead_width" },
  { TRAMMEL_BEAD_HEIGHT, "layer_height" },
  { TRAMMEL_BEAD_SPEED, "speed" },
  { TRAMMEL_BEAD_FILAMENT, "filament_diameter" },
};

static Ask
asked (TrammelBeadPanel *self)
{
  return (Ask)gtk_drop_down_get_selected (self->ask);
}

static const TrammelUnit *
length_unit (TrammelBeadPanel *self)
{
  return trammel_machine_display_unit (trammel_session_machine (self->session));
}

static const TrammelUnit *
speed_unit (TrammelBeadPanel *self)
{
  const gboolean inch = length_unit (self) != trammel_unit_base (TRAMMEL_DIMENSION_LENGTH);
  return trammel_unit_find (TRAMMEL_DIMENSION_SPEED, inch ? "in/s" : "mm/s");
}

static gboolean
matters (TrammelBeadPanel *self, TrammelBeadGiven which)
{
  const Ask ask = asked (self);
  const By by = (By)gtk_drop_down_get_selected (self->by);

  switch (which)
    {
    case TRAMMEL_BEAD_WIDTH:
      return ask != ASK_WIDTH;
    case TRAMMEL_BEAD_SPEED:
      return ask != ASK_SPEED;
    case TRAMMEL_BEAD_FILAMENT:
      return ask == ASK_FLOW || by != BY_MASS;
    case TRAMMEL_BEAD_FEED:
      return ask != ASK_FLOW && by == BY_FEED;
    case TRAMMEL_BEAD_LENGTH:
      return ask != ASK_FLOW && by == BY_LENGTH;
    case TRAMMEL_BEAD_MASS:
    case TRAMMEL_BEAD_DENSITY:
      return ask != ASK_FLOW && by == BY_MASS;
    case TRAMMEL_BEAD_TIME:
      return ask != ASK_FLOW && by != BY_FEED;
    case TRAMMEL_BEAD_HEIGHT:
    case TRAMMEL_BEAD_N_GIVEN:
    default:
      return TRUE;
    }
}

/* The answer */

static void
show_lines (TrammelBeadPanel *self)
{
  g_autoptr (GArray) lines = self->is_solved ? trammel_sentences_bead_lines (&self->bead, length_unit (self)) : NULL;
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->lines))))
    gtk_grid_remove (self->lines, child);
  for (guint i = 0; lines && i < lines->len; i++)
    {
      const TrammelBeadLine *line = &g_array_index (lines, TrammelBeadLine, i);
      GtkWidget *label = gtk_label_new (line->label), *text = gtk_label_new (line->text);
      gtk_label_set_xalign (GTK_LABEL (label), 0);
      gtk_label_set_xalign (GTK_LABEL (text), 0);
      gtk_label_set_selectable (GTK_LABEL (text), TRUE);
      gtk_widget_set_can_focus (text, FALSE);
      gtk_widget_add_css_class (label, "dim-label");
      gtk_widget_add_css_class (text, "numeric");
      gtk_grid_attach (self->lines, label, 0, (int)i, 1, 1);
      gtk_grid_attach (self->lines, text, 1, (int)i, 1, 1);
    }
  gtk_widget_set_visible (GTK_WIDGET (self->lines), lines != NULL);
}

static void
show_answer (TrammelBeadPanel *self, const char *why_not)
{
  g_autofree char *sentence = self->is_solved ? trammel_sentences_bead (&self->bead, length_unit (self)) : NULL;
  const char *note = self->is_solved ? trammel_sentences_bead_note (&self->bead) : NULL;

  trammel_rewrite_label (self->answer, sentence ? sentence : why_not);
  trammel_rewrite_label (self->note, note);
  gtk_widget_set_visible (GTK_WIDGET (self->note), note != NULL);
  show_lines (self);
  trammel_rewrite_button (self->use, asked (self) == ASK_WIDTH ? _ ("Use this width") : _ ("Use this speed"));
  gtk_widget_set_visible (GTK_WIDGET (self->use), self->is_solved && asked (self) != ASK_FLOW);
}

/* Reads the form into the bead; NULL, or (transfer full) what is missing in it. */
static char *
read_form (TrammelBeadPanel *self)
{
  GString *wanted = g_string_new (NULL);
  gboolean refused = FALSE;

  trammel_bead_init (&self->bead);
  for (gsize i = 0; i < TRAMMEL_BEAD_N_GIVEN; i++)
    {
      if (!matters (self, (TrammelBeadGiven)i))
        continue;
      const TrammelAmountState state = trammel_amount_entry_read (self->entries[i], &self->bead.given[i]);
      refused = refused || state == TRAMMEL_AMOUNT_REFUSED;
      if (state == TRAMMEL_AMOUNT_BLANK && !(i == TRAMMEL_BEAD_FILAMENT && asked (self) == ASK_FLOW))
        g_string_append_printf (wanted, "%s%s", wanted->len > 0 ? ", " : "", _ (trammel_bead_fields ()[i].label));
    }
  g_autofree char *missing = g_string_free (wanted, FALSE);
  if (*missing)
    return g_strdup_printf (_ ("Still wanted: %s."), missing);
  return refused ? g_strdup (_ ("Something above cannot be read yet.")) : NULL;
}

static void
solve (TrammelBeadPanel *self)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *missing = read_form (self);

  self->is_solved = !missing && trammel_bead_solve (&self->bead, &error);
  show_answer (self, missing ? missing : error ? error->message : NULL);
}

static void
amount_changed (TrammelBeadPanel *self)
{
  if (self->session)
    solve (self);
}

static void
choice_changed (TrammelBeadPanel *self)
{
  if (!self->session)
    return;
  gtk_widget_set_visible (GTK_WIDGET (self->by), asked (self) != ASK_FLOW);
  for (gsize i = 0; i < TRAMMEL_BEAD_N_GIVEN; i++)
    gtk_widget_set_visible (GTK_WIDGET (self->entries[i]), matters (self, (TrammelBeadGiven)i));
  solve (self);
}

/* Into the test piece */

/* (transfer full): as files hold it; @step 0: all digits. */
static char *
text_for_piece (TrammelBeadPanel *self, gsize parameter, double value)
{
  const gboolean is_speed = parameters[parameter].which == TRAMMEL_BEAD_SPEED;
  const TrammelUnit *unit = is_speed ? speed_unit (self) : length_unit (self);
  const double shown = value / trammel_unit_factor (unit);
  const double step = length_unit (self) == trammel_unit_base (TRAMMEL_DIMENSION_LENGTH) ? MM_STEP : INCH_STEP;
  const gboolean is_found = !trammel_bead_is_given (&self->bead, parameters[parameter].which);
  /* Decimals are made of whole numbers, or 0.453 would be 0.45300000000000001 */
  g_autofree char *number = trammel_number_to_text (is_found ? round (shown / step) / round (1 / step) : shown);

  return g_strconcat (number, " ", trammel_unit_symbol (unit), NULL);
}

static TrammelAmount
amount_of (TrammelBeadPanel *self, TrammelBeadGiven which)
{
  return which == TRAMMEL_BEAD_WIDTH   ? self->bead.width
         : which == TRAMMEL_BEAD_SPEED ? self->bead.speed
                                       : self->bead.given[which];
}

/* What was found, and what was typed with it: the one holds only with the other. */
static gboolean
goes_to_piece (TrammelBeadPanel *self, TrammelBeadGiven which)
{
  return matters (self, which) ? trammel_amount_entry_is_typed (self->entries[which]) : which != TRAMMEL_BEAD_FILAMENT;
}

static void
use_it (TrammelBeadPanel *self)
{
  const TrammelMachine *machine = trammel_session_machine (self->session);
  g_autoptr (TrammelRecord) piece = trammel_record_ref (trammel_machine_piece (machine));
  g_autoptr (GError) error = NULL;

  if (!self->is_solved)
    return;
  for (gsize i = 0; i < G_N_ELEMENTS (parameters); i++)
    {
      if (!goes_to_piece (self, parameters[i].which))
        continue;
      g_autofree char *text = text_for_piece (self, i, amount_of (self, parameters[i].which).value);
      TrammelRecord *changed = trammel_record_with_text (piece, parameters[i].key, text, length_unit (self), &error);
      if (!changed)
        {
          trammel_rewrite_label (self->answer, error->message);
          return;
        }
      trammel_record_unref (piece);
      piece = changed;
    }
  trammel_session_edit (self->session, trammel_machine_with_piece (machine, piece),
                        asked (self) == ASK_WIDTH ? _ ("use the bead width found") : _ ("use the speed found"), NULL);
}

/* How it is made */

static void
show_units (TrammelBeadPanel *self)
{
  const TrammelBeadField *fields = trammel_bead_fields ();

  for (gsize i = 0; i < TRAMMEL_BEAD_N_GIVEN; i++)
    trammel_amount_entry_set_unit (
        self->entries[i],
        fields[i].dimension == TRAMMEL_DIMENSION_LENGTH    ? length_unit (self)
        : fields[i].dimension == TRAMMEL_DIMENSION_SPEED   ? speed_unit (self)
        : fields[i].dimension == TRAMMEL_DIMENSION_MASS    ? trammel_unit_find (TRAMMEL_DIMENSION_MASS, "g")
        : fields[i].dimension == TRAMMEL_DIMENSION_DENSITY ? trammel_unit_find (TRAMMEL_DIMENSION_DENSITY, "g/cm³")
                                                           : trammel_unit_base (fields[i].dimension));
}

static void
show_usual (TrammelBeadPanel *self)
{
  const TrammelRecord *piece = trammel_machine_piece (trammel_session_machine (self->session));
  const gboolean has_filament = g_strcmp0 (trammel_record_choice (piece, "feed"), "none") != 0;

  for (gsize i = 0; i < G_N_ELEMENTS (parameters); i++)
    {
      const gboolean counts = parameters[i].which != TRAMMEL_BEAD_FILAMENT || has_filament;
      g_autofree char *text = counts ? trammel_record_text (piece, parameters[i].key) : NULL;
      trammel_amount_entry_set_usual (self->entries[parameters[i].which], text);
    }
}

void
trammel_bead_panel_show (TrammelBeadPanel *self, TrammelSession *session)
{
  g_return_if_fail (TRAMMEL_IS_BEAD_PANEL (self) && TRAMMEL_IS_SESSION (session));

  g_set_object (&self->session, session);
  show_units (self);
  show_usual (self);
  choice_changed (self);
}

static void
make_entries (TrammelBeadPanel *self)
{
  const TrammelBeadField *fields = trammel_bead_fields ();
  g_autoptr (GtkSizeGroup) labels = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);

  for (gsize i = 0; i < TRAMMEL_BEAD_N_GIVEN; i++)
    {
      const TrammelAmountKind kind = { .label = _ (fields[i].label),
                                       .meaning = _ (fields[i].meaning),
                                       .dimension = fields[i].dimension,
                                       .has_u = TRUE,
                                       .table = i == TRAMMEL_BEAD_DENSITY ? "density" : NULL };
      self->entries[i] = TRAMMEL_AMOUNT_ENTRY (trammel_amount_entry_new (&kind, labels));
      g_signal_connect_swapped (self->entries[i], "changed", G_CALLBACK (amount_changed), self);
      gtk_box_append (self->form, GTK_WIDGET (self->entries[i]));
    }
}

static void
trammel_bead_panel_dispose (GObject *object)
{
  TrammelBeadPanel *self = TRAMMEL_BEAD_PANEL (object);

  g_clear_object (&self->session);
  g_clear_pointer (&self->root, gtk_widget_unparent);
  G_OBJECT_CLASS (trammel_bead_panel_parent_class)->dispose (object);
}

static void
trammel_bead_panel_class_init (TrammelBeadPanelClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = trammel_bead_panel_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "beadpanel");
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/bead-panel.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelBeadPanel, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelBeadPanel, ask);
  gtk_widget_class_bind_template_child (widget_class, TrammelBeadPanel, by);
  gtk_widget_class_bind_template_child (widget_class, TrammelBeadPanel, form);
  gtk_widget_class_bind_template_child (widget_class, TrammelBeadPanel, answer);
  gtk_widget_class_bind_template_child (widget_class, TrammelBeadPanel, lines);
  gtk_widget_class_bind_template_child (widget_class, TrammelBeadPanel, note);
  gtk_widget_class_bind_template_child (widget_class, TrammelBeadPanel, use);
  gtk_widget_class_bind_template_child (widget_class, TrammelBeadPanel, caution);
  gtk_widget_class_bind_template_callback (widget_class, choice_changed);
  gtk_widget_class_bind_template_callback (widget_class, use_it);
}

static void
trammel_bead_panel_init (TrammelBeadPanel *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  make_entries (self);
  gtk_label_set_text (self->caution, trammel_sentences_bead_caution ());
}
