/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/mesh-panel.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/display.h"
#include "drive/stage-gears.h"
#include "drive/words.h"
#include "window/columns.h"
#include "window/field-editor.h"
#include "window/mesh-rows.h"
#include "window/mesh-view.h"
#include "window/rewrite.h"

#define DEGREE (G_PI / 180)

struct _TrammelMeshPanel
{
  GtkWidget parent_instance;

  TrammelSession *session;
  gboolean stale;
  int stage;                  /* shown; −1: none */
  TrammelRecord *shown_stage; /* what the gears and offsets were found from; NULL: nothing */
  TrammelRecord *shown_plate;
  TrammelStageGears gears;
  TrammelMeshOffset *offsets;
  gsize n_offsets;
  gssize chosen; /* of the offsets; −1: none */
  gboolean filling;

  GtkWidget *root;
  GtkLabel *empty;
  GtkWidget *content;
  GtkLabel *heading;
  GtkLabel *sentence;
  GtkLabel *warning;
  GtkBox *plate;
  GtkWidget *pitch;
  GtkWidget *half;
  GtkLabel *answer;
  GtkListBox *list;
  GtkWidget *use;
  TrammelMeshView *view;
  GtkGrid *facts;
};

G_DEFINE_FINAL_TYPE (TrammelMeshPanel, trammel_mesh_panel, GTK_TYPE_WIDGET)

static const TrammelUnit *
display_unit (TrammelMeshPanel *self)
{
  return trammel_machine_display_unit (trammel_session_machine (self->session));
}

static char *
length_text (TrammelMeshPanel *self, double mm)
{
  const TrammelUnit *unit = display_unit (self);
  return trammel_display_length (mm, unit, trammel_unit_factor (unit) == 1 ? 3 : 4);
}

static const TrammelAxis *
selected_axis (TrammelMeshPanel *self)
{
  int axis = trammel_session_selected_axis (self->session);
  return axis < 0 ? NULL : trammel_machine_axis (trammel_session_machine (self->session), axis);
}

/* The selected stage when it is a pair of spur gears, else the first that is; −1: there is none. */
static int
stage_to_show (TrammelMeshPanel *self, const TrammelTrain *train)
{
  int part = trammel_session_selected_part (self->session);
  int n = (int)trammel_train_n_stages (train);

  if (part >= 1 && part <= n && trammel_stage_has_gears (trammel_train_stage (train, part - 1)))
    return part - 1;
  for (int i = 0; i < n; i++)
    if (trammel_stage_has_gears (trammel_train_stage (train, i)))
      return i;
  return -1;
}

static void
show_nothing (TrammelMeshPanel *self, const char *why)
{
  g_clear_pointer (&self->shown_stage, trammel_record_unref);
  self->stage = -1;
  trammel_mesh_view_show (self->view, NULL, '\0', NULL);
  trammel_rewrite_label (self->empty, why);
  gtk_widget_set_visible (GTK_WIDGET (self->empty), TRUE);
  gtk_widget_set_visible (self->content, FALSE);
}

static TrammelHoleGrid
grid_of_plate (const TrammelRecord *plate)
{
  double pitch = trammel_record_value (plate, "pitch");
  return (TrammelHoleGrid){ isnan (pitch) ? 0 : pitch, trammel_record_flag (plate, "half"), 0 };
}

/* The offset at which the stage is built, else the first at which it runs. */
static gssize
offset_to_choose (TrammelMeshPanel *self)
{
  for (gsize i = 0; i < self->n_offsets; i++)
    if (fabs (self->offsets[i].mesh.distance - self->gears.center) < 0.001)
      return (gssize)i;
  for (gsize i = 0; i < self->n_offsets; i++)
    if (self->offsets[i].mesh.state == TRAMMEL_MESH_RUNS)
      return (gssize)i;
  return -1;
}

/* FALSE with @why when there are no gears to speak of. */
static gboolean
find_gears (TrammelMeshPanel *self, const TrammelRecord *stage, const TrammelRecord *plate, GError **why)
{
  TrammelHoleGrid grid = grid_of_plate (plate);
  g_autoptr (GError) error = NULL;

  g_clear_pointer (&self->shown_stage, trammel_record_unref);
  g_clear_pointer (&self->shown_plate, trammel_record_unref);
  g_clear_pointer (&self->offsets, g_free);
  self->n_offsets = 0;
  self->chosen = -1;
  if (!trammel_stage_gears (stage, &self->gears, why))
    return FALSE;
  self->shown_stage = trammel_record_ref (stage);
  self->shown_plate = trammel_record_ref (plate);
  if (grid.pitch > 0)
    self->offsets = trammel_mesh_grid_offsets (&self->gears.pair, grid, &self->n_offsets, &error);
  trammel_field_editor_set_trouble (TRAMMEL_FIELD_EDITOR (self->pitch), error ? error->message : NULL);
  self->chosen = offset_to_choose (self);
  return TRUE;
}

static gboolean
is_found_already (TrammelMeshPanel *self, const TrammelRecord *stage, const TrammelRecord *plate)
{
  return self->shown_stage && trammel_record_equal (self->shown_stage, stage)
         && trammel_record_equal (self->shown_plate, plate);
}

static void
show_picture (TrammelMeshPanel *self, const TrammelAxis *axis)
{
  const TrammelMeshPicture picture = { .pair = &self->gears.pair,
                                       .distance = self->gears.center,
                                       .grid = grid_of_plate (self->shown_plate),
                                       .offsets = self->offsets,
                                       .n_offsets = self->n_offsets,
                                       .chosen = self->chosen,
                                       .unit = display_unit (self) };
  double shown = self->chosen >= 0 ? self->offsets[self->chosen].mesh.distance : self->gears.center;
  g_autofree char *distance = length_text (self, shown);
  g_autofree char *words = g_strdup_printf (_ ("%d and %d teeth in mesh, %s from center to center"),
                                            self->gears.pair.a.teeth, self->gears.pair.b.teeth, distance);
  trammel_mesh_view_show (self->view, &picture, trammel_axis_letter (axis), words);
}

static void
show_use (TrammelMeshPanel *self)
{
  gboolean runs = self->chosen >= 0 && self->offsets[self->chosen].mesh.state == TRAMMEL_MESH_RUNS;
  gtk_widget_set_sensitive (self->use, runs);
  gtk_widget_set_visible (self->use, self->n_offsets > 0);
}

static void
choose (TrammelMeshPanel *self, gssize offset)
{
  const TrammelAxis *axis = selected_axis (self);
  if (!axis || offset == self->chosen)
    return;
  self->chosen = offset;
  show_picture (self, axis);
  show_use (self);
}

static void
row_selected (GtkListBox *list, GtkListBoxRow *row, TrammelMeshPanel *self)
{
  if (!self->filling && row)
    choose (self, trammel_mesh_rows_offset (row));
}

static void
use_chosen (TrammelMeshPanel *self)
{
  const TrammelMachine *machine = trammel_session_machine (self->session);
  int axis = trammel_session_selected_axis (self->session);

  if (axis < 0 || self->chosen < 0 || !self->shown_stage)
    return;
  double center = self->offsets[self->chosen].mesh.distance;
  g_autoptr (TrammelRecord) stage = trammel_stage_with_center (self->shown_stage, center, NULL);
  if (stage && !trammel_record_equal (stage, self->shown_stage))
    trammel_session_edit (self->session, trammel_machine_with_stage (machine, axis, self->stage, stage),
                          _ ("place the gears"), NULL);
}

static void
row_activated (GtkListBox *list, GtkListBoxRow *row, TrammelMeshPanel *self)
{
  choose (self, trammel_mesh_rows_offset (row));
  if (gtk_widget_is_sensitive (self->use)) /* not where the pair does not run */
    use_chosen (self);
}

static void
use_clicked (TrammelMeshPanel *self)
{
  use_chosen (self);
}

static void
hole_picked (TrammelMeshView *view, guint offset, TrammelMeshPanel *self)
{
  GtkListBoxRow *row = trammel_mesh_rows_find (self->list, offset);
  if (row)
    gtk_list_box_select_row (self->list, row);
  else
    choose (self, offset);
}

static void
show_list (TrammelMeshPanel *self)
{
  self->filling = TRUE;
  gsize running
      = trammel_mesh_rows_show (self->list, &self->gears, self->offsets, self->n_offsets, display_unit (self));
  gtk_list_box_select_row (self->list, self->chosen >= 0 ? trammel_mesh_rows_find (self->list, self->chosen) : NULL);
  self->filling = FALSE;
  gtk_widget_set_visible (GTK_WIDGET (self->list), self->n_offsets > 0);

  g_autofree char *text = NULL;
  if (grid_of_plate (self->shown_plate).pitch == 0)
    text = g_strdup (_ ("Shafts on a plate with holes? Give their distance, and see in which holes the gears run."));
  else if (self->n_offsets > 0 && running == 0)
    text = g_strdup (_ ("The gears run in no two holes of this plate."));
  else if (self->n_offsets > 0)
    text = g_strdup_printf (ngettext ("The gears run at %u distance on this plate.",
                                      "The gears run at %u distances on this plate.", running),
                            (guint)running);
  trammel_rewrite_label (self->answer, text);
  gtk_widget_set_visible (GTK_WIDGET (self->answer), text != NULL);
}

static void
show_sentence (TrammelMeshPanel *self)
{
  const TrammelStageGears *gears = &self->gears;
  const TrammelMesh mesh = trammel_gear_pair_at (&gears->pair, gears->center);
  g_autofree char *without = length_text (self, gears->distance);
  g_autofree char *ratio = trammel_display_number (mesh.contact_ratio, 2);
  g_autofree char *angle = trammel_display_number (mesh.working_angle / DEGREE, 2);
  g_autofree char *center = length_text (self, gears->center);
  g_autofree char *backlash = length_text (self, mesh.backlash);
  g_autofree char *text = NULL;

  if (!trammel_record_has (self->shown_stage, "center"))
    text = g_strdup_printf (_ ("Without backlash %s from center to center. Contact ratio %s: on average so many teeth "
                               "carry."),
                            without, ratio);
  else if (mesh.state == TRAMMEL_MESH_RUNS)
    text = g_strdup_printf (_ ("Built %s from center to center (%s without backlash): backlash %s, contact ratio %s, "
                               "working pressure angle %s°."),
                            center, without, backlash, ratio, angle);
  else
    text = g_strdup_printf (_ ("Built %s from center to center (%s without backlash), the pair %s."), center, without,
                            trammel_mesh_to_words (&mesh, gears->pair.b.internal));
  trammel_rewrite_label (self->sentence, text);
}

static void
append_warning (GString *text, const TrammelGear *gear)
{
  if (trammel_gear_is_undercut (*gear))
    {
      g_autofree char *shift = trammel_display_number (trammel_gear_undercut_shift (gear->teeth, gear->angle), 2);
      g_string_append (text, text->len > 0 ? "\n" : "");
      g_string_append_printf (text,
                              _ ("%d teeth are undercut when a rack cuts them: weaker, with less contact. A profile "
                                 "shift of %s would cure it."),
                              gear->teeth, shift);
    }
  if (trammel_gear_is_pointed (*gear))
    {
      g_string_append (text, text->len > 0 ? "\n" : "");
      g_string_append_printf (text, _ ("The %d teeth come to a point below their tip circle."), gear->teeth);
    }
}

static void
show_warnings (TrammelMeshPanel *self)
{
  g_autoptr (GString) text = g_string_new (NULL);
  append_warning (text, &self->gears.pair.a);
  append_warning (text, &self->gears.pair.b);
  trammel_rewrite_label (self->warning, text->str);
  gtk_widget_set_visible (GTK_WIDGET (self->warning), text->len > 0);
}

static void
write_cell (TrammelMeshPanel *self, int column, int row, const char *text, const char *class)
{
  GtkWidget *label = gtk_grid_get_child_at (self->facts, column, row);
  if (!label)
    {
      label = gtk_label_new (NULL);
      gtk_label_set_xalign (GTK_LABEL (label), column == 0 ? 0 : 1);
      gtk_widget_add_css_class (label, class);
      gtk_grid_attach (self->facts, label, column, row, 1, 1);
    }
  trammel_rewrite_label (GTK_LABEL (label), text);
}

static void
show_facts (TrammelMeshPanel *self)
{
  const TrammelUnit *unit = display_unit (self);
  const int decimals = trammel_unit_factor (unit) == 1 ? 3 : 4;
  const char *const headings[] = { _ ("Diameters"), _ ("reference"), _ ("base"), _ ("tip"), _ ("root") };
  const TrammelGear *gears[] = { self->gears.driver_is_b ? &self->gears.pair.b : &self->gears.pair.a,
                                 self->gears.driver_is_b ? &self->gears.pair.a : &self->gears.pair.b };

  for (guint i = 0; i < G_N_ELEMENTS (headings); i++)
    write_cell (self, (int)i, 0, headings[i], "dim-label");
  for (int i = 0; i < 2; i++)
    {
      g_autofree char *name = g_strdup_printf (i == 0 ? _ ("Driver, %d") : _ ("Driven, %d"), gears[i]->teeth);
      const double diameters[] = { trammel_gear_reference_diameter (*gears[i]), trammel_gear_base_diameter (*gears[i]),
                                   trammel_gear_tip_diameter (*gears[i]), trammel_gear_root_diameter (*gears[i]) };
      write_cell (self, 0, i + 1, name, "facts-name");
      for (guint k = 0; k < G_N_ELEMENTS (diameters); k++)
        {
          g_autofree char *text = trammel_display_number (diameters[k] / trammel_unit_factor (unit), decimals);
          write_cell (self, (int)k + 1, i + 1, text, "numeric");
        }
    }
}

static void
show_heading (TrammelMeshPanel *self, const TrammelRecord *stage)
{
  g_autofree char *words = trammel_stage_to_words (stage);
  g_autofree char *text = g_strdup_printf (_ ("Stage %u: %s"), (guint)self->stage + 1, words);
  trammel_rewrite_label (self->heading, text);
}

static void
show_all (TrammelMeshPanel *self)
{
  self->stale = !gtk_widget_get_mapped (GTK_WIDGET (self));
  if (self->stale)
    return;

  const TrammelAxis *axis = selected_axis (self);
  int i = axis ? stage_to_show (self, trammel_axis_train (axis)) : -1;
  if (i < 0)
    {
      show_nothing (self, _ ("No pair of gears here. Add a spur pair or an internal pair to this axis, and see how its "
                             "gears mesh."));
      return;
    }

  const TrammelRecord *stage = trammel_train_stage (trammel_axis_train (axis), i);
  const TrammelRecord *plate = trammel_machine_plate (trammel_session_machine (self->session));
  g_autoptr (GError) error = NULL;
  self->stage = i;
  if (!is_found_already (self, stage, plate) && !find_gears (self, stage, plate, &error))
    {
      show_nothing (self, error->message);
      return;
    }
  gtk_widget_set_visible (GTK_WIDGET (self->empty), FALSE);
  gtk_widget_set_visible (self->content, TRUE);
  trammel_field_editor_show (TRAMMEL_FIELD_EDITOR (self->pitch), plate, display_unit (self));
  trammel_field_editor_show (TRAMMEL_FIELD_EDITOR (self->half), plate, NULL);
  show_heading (self, stage);
  show_sentence (self);
  show_warnings (self);
  show_list (self);
  show_use (self);
  show_facts (self);
  show_picture (self, axis);
}

static void
plate_edited (GtkWidget *editor, const TrammelRecord *plate, TrammelMeshPanel *self)
{
  trammel_session_edit (self->session, trammel_machine_with_plate (trammel_session_machine (self->session), plate),
                        _ ("change the plate"), NULL);
}

static GtkWidget *
add_editor (TrammelMeshPanel *self, const char *key)
{
  GtkWidget *editor = trammel_field_editor_new (trammel_record_kind_field (trammel_plate_kind (), key), NULL);
  g_signal_connect (editor, "edited", G_CALLBACK (plate_edited), self);
  gtk_box_append (self->plate, editor);
  return editor;
}

static void
trammel_mesh_panel_map (GtkWidget *widget)
{
  TrammelMeshPanel *self = TRAMMEL_MESH_PANEL (widget);

  GTK_WIDGET_CLASS (trammel_mesh_panel_parent_class)->map (widget);
  if (self->stale)
    show_all (self);
}

static void
trammel_mesh_panel_dispose (GObject *object)
{
  TrammelMeshPanel *self = TRAMMEL_MESH_PANEL (object);
  if (self->session)
    g_signal_handlers_disconnect_by_data (self->session, self);
  g_clear_object (&self->session);
  g_clear_pointer (&self->root, gtk_widget_unparent);
  g_clear_pointer (&self->shown_stage, trammel_record_unref);
  g_clear_pointer (&self->shown_plate, trammel_record_unref);
  g_clear_pointer (&self->offsets, g_free);
  G_OBJECT_CLASS (trammel_mesh_panel_parent_class)->dispose (object);
}

static void
trammel_mesh_panel_class_init (TrammelMeshPanelClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  g_type_ensure (TRAMMEL_TYPE_MESH_VIEW);
  g_type_ensure (TRAMMEL_TYPE_COLUMNS);

  G_OBJECT_CLASS (klass)->dispose = trammel_mesh_panel_dispose;
  widget_class->map = trammel_mesh_panel_map;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/mesh-panel.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelMeshPanel, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelMeshPanel, empty);
  gtk_widget_class_bind_template_child (widget_class, TrammelMeshPanel, content);
  gtk_widget_class_bind_template_child (widget_class, TrammelMeshPanel, heading);
  gtk_widget_class_bind_template_child (widget_class, TrammelMeshPanel, sentence);
  gtk_widget_class_bind_template_child (widget_class, TrammelMeshPanel, warning);
  gtk_widget_class_bind_template_child (widget_class, TrammelMeshPanel, plate);
  gtk_widget_class_bind_template_child (widget_class, TrammelMeshPanel, answer);
  gtk_widget_class_bind_template_child (widget_class, TrammelMeshPanel, list);
  gtk_widget_class_bind_template_child (widget_class, TrammelMeshPanel, use);
  gtk_widget_class_bind_template_child (widget_class, TrammelMeshPanel, view);
  gtk_widget_class_bind_template_child (widget_class, TrammelMeshPanel, facts);
  gtk_widget_class_bind_template_callback (widget_class, row_selected);
  gtk_widget_class_bind_template_callback (widget_class, row_activated);
  gtk_widget_class_bind_template_callback (widget_class, use_clicked);
  gtk_widget_class_bind_template_callback (widget_class, hole_picked);
}

static void
trammel_mesh_panel_init (TrammelMeshPanel *self)
{
  self->stage = -1;
  self->chosen = -1;
  gtk_widget_init_template (GTK_WIDGET (self));
  self->pitch = add_editor (self, "pitch");
  self->half = add_editor (self, "half");
}

GtkWidget *
trammel_mesh_panel_new (TrammelSession *session)
{
  g_return_val_if_fail (TRAMMEL_IS_SESSION (session), NULL);

  TrammelMeshPanel *self = g_object_new (TRAMMEL_TYPE_MESH_PANEL, NULL);
  self->session = g_object_ref (session);
  g_signal_connect_swapped (session, "changed", G_CALLBACK (show_all), self);
  g_signal_connect_swapped (session, "selection-changed", G_CALLBACK (show_all), self);
  show_all (self);
  return GTK_WIDGET (self);
}
