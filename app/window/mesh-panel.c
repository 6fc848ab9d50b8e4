/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/mesh-panel.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/display.h"
#include "drive/stage-gears.h"
#include "drive/words.h"
#include "window/columns.h"
#include "window/field-editor.h"
#include "window/mesh-facts.h"
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
  gsize mesh;                 /* of it, from the driver on */
  TrammelRecord *shown_stage; /* what the gears and offsets were found from; NULL: nothing */
  gsize shown_mesh;
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
  GtkWidget *which; /* mesh of a stage that has several */
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
  TrammelHoleGrid grid = trammel_plate_grid (plate);
  g_autoptr (GError) error = NULL;

  g_clear_pointer (&self->shown_stage, trammel_record_unref);
  g_clear_pointer (&self->shown_plate, trammel_record_unref);
  g_clear_pointer (&self->offsets, g_free);
  self->n_offsets = 0;
  self->chosen = -1;
  if (!trammel_stage_gears (stage, self->mesh, &self->gears, why))
    return FALSE;
  self->shown_stage = trammel_record_ref (stage);
  self->shown_mesh = self->mesh;
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
  return self->shown_stage && self->shown_mesh == self->mesh && trammel_record_equal (self->shown_stage, stage)
         && trammel_record_equal (self->shown_plate, plate);
}

static void
show_picture (TrammelMeshPanel *self, const TrammelAxis *axis)
{
  const TrammelMeshPicture picture = { .pair = &self->gears.pair,
                                       .distance = self->gears.center,
                                       .grid = trammel_plate_grid (self->shown_plate),
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
  g_autoptr (TrammelRecord) stage = trammel_stage_with_center (self->shown_stage, self->mesh, center, NULL);
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
  if (trammel_plate_grid (self->shown_plate).pitch == 0)
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

/* What the meshes of a stage with idlers come to; NULL where there is nothing to tell. */
static char *
lash_of_all (TrammelMeshPanel *self)
{
  gsize meshes = trammel_stage_n_gear_meshes (self->shown_stage), placed = 0;
  for (gsize i = 0; i < meshes; i++)
    placed += !isnan (trammel_stage_center (self->shown_stage, i));
  TrammelQuantity lash;
  if (meshes < 2 || placed == 0 || !trammel_record_quantity (self->shown_stage, "lash", &lash)
      || trammel_unit_dimension (lash.unit) != TRAMMEL_DIMENSION_LENGTH)
    return NULL;

  g_autofree char *shown = length_text (self, trammel_quantity_value (lash));
  return g_strdup_printf (_ ("The stage has %s of lash; %u of its %u meshes are placed."), shown, (guint)placed,
                          (guint)meshes);
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

  if (!gears->placed)
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
  g_autofree char *all = lash_of_all (self);
  g_autofree char *both = all ? g_strdup_printf ("%s %s", text, all) : NULL;
  trammel_rewrite_label (self->sentence, both ? both : text);
}

static void
show_warnings (TrammelMeshPanel *self)
{
  g_autofree char *text = trammel_mesh_warnings (&self->gears);
  trammel_rewrite_label (self->warning, text);
  gtk_widget_set_visible (GTK_WIDGET (self->warning), text != NULL);
}

static void
show_heading (TrammelMeshPanel *self, const TrammelRecord *stage)
{
  g_autofree char *words = trammel_stage_to_words (stage);
  g_autofree char *text = g_strdup_printf (_ ("Stage %u: %s"), (guint)self->stage + 1, words);
  trammel_rewrite_label (self->heading, text);
}

static gboolean
holds_the_same (GListModel *one, GListModel *other)
{
  guint n = g_list_model_get_n_items (other);
  if (!one || g_list_model_get_n_items (one) != n)
    return FALSE;
  for (guint i = 0; i < n; i++)
    if (g_strcmp0 (gtk_string_list_get_string (GTK_STRING_LIST (one), i),
                   gtk_string_list_get_string (GTK_STRING_LIST (other), i))
        != 0)
      return FALSE;
  return TRUE;
}

/* The meshes of a stage with idlers to choose from: "12 and 20 teeth". */
static void
show_meshes (TrammelMeshPanel *self, const TrammelRecord *stage)
{
  gsize meshes = trammel_stage_n_gear_meshes (stage);
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);

  for (gsize i = 0; i < meshes && meshes > 1; i++)
    {
      TrammelStageGears gears;
      g_autofree char *name
          = trammel_stage_gears (stage, i, &gears, NULL)
                ? g_strdup_printf (_ ("Mesh %u: %d and %d teeth"), (guint)i + 1, gears.pair.a.teeth, gears.pair.b.teeth)
                : g_strdup_printf (_ ("Mesh %u"), (guint)i + 1);
      gtk_string_list_append (names, name);
    }
  self->filling = TRUE;
  if (!holds_the_same (gtk_drop_down_get_model (GTK_DROP_DOWN (self->which)), G_LIST_MODEL (names)))
    gtk_drop_down_set_model (GTK_DROP_DOWN (self->which), G_LIST_MODEL (names));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->which), (guint)self->mesh);
  self->filling = FALSE;
  gtk_widget_set_visible (self->which, meshes > 1);
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
  if (i != self->stage || self->mesh >= trammel_stage_n_gear_meshes (stage))
    self->mesh = 0;
  self->stage = i;
  show_meshes (self, stage);
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
  trammel_mesh_diameters_show (self->facts, &self->gears, self->mesh, trammel_stage_n_gear_meshes (stage),
                               display_unit (self));
  show_picture (self, axis);
}

static void
mesh_selected (TrammelMeshPanel *self)
{
  guint mesh = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->which));
  if (self->filling || mesh == GTK_INVALID_LIST_POSITION || mesh == self->mesh)
    return;
  self->mesh = mesh;
  show_all (self);
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
  gtk_widget_class_bind_template_child (widget_class, TrammelMeshPanel, which);
  gtk_widget_class_bind_template_child (widget_class, TrammelMeshPanel, sentence);
  gtk_widget_class_bind_template_child (widget_class, TrammelMeshPanel, warning);
  gtk_widget_class_bind_template_child (widget_class, TrammelMeshPanel, plate);
  gtk_widget_class_bind_template_child (widget_class, TrammelMeshPanel, answer);
  gtk_widget_class_bind_template_child (widget_class, TrammelMeshPanel, list);
  gtk_widget_class_bind_template_child (widget_class, TrammelMeshPanel, use);
  gtk_widget_class_bind_template_child (widget_class, TrammelMeshPanel, view);
  gtk_widget_class_bind_template_child (widget_class, TrammelMeshPanel, facts);
  gtk_widget_class_bind_template_callback (widget_class, mesh_selected);
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
