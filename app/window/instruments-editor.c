/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/instruments-editor.h"

#include <glib/gi18n.h>

#include <string.h>

#include "draw/display.h"
#include "window/rewrite.h"

/* What an entry of a row holds. */
typedef enum
{
  FIELD_NAME,
  FIELD_U,
  FIELD_RESOLUTION,
  FIELD_SCALE_U,
  FIELD_EXPANSION,
  FIELD_TEMPERATURE,
} Field;
#define N_FIELDS 6

/* All but name and u may be left empty; then the placeholder says what they are. */
static const char *const placeholders[N_FIELDS] = {
  [FIELD_RESOLUTION] = N_ ("step"),
  [FIELD_SCALE_U] = N_ ("scale %"),
  [FIELD_EXPANSION] = "10⁻⁶/°C",
  [FIELD_TEMPERATURE] = "°C",
};

static const char *const labels[N_FIELDS] = {
  [FIELD_NAME] = N_ ("Name of %s"),
  [FIELD_U] = N_ ("Standard uncertainty of one reading of %s"),
  [FIELD_RESOLUTION] = N_ ("Smallest step that %s shows"),
  [FIELD_SCALE_U] = N_ ("Relative standard uncertainty of the scale of %s, which all its readings share"),
  [FIELD_EXPANSION] = N_ ("Expansion of %s, millionths per °C"),
  [FIELD_TEMPERATURE] = N_ ("Temperature of %s while measuring"),
};

static const char *const wanted[N_FIELDS] = {
  [FIELD_RESOLUTION] = N_ ("A length of 0 or more is wanted."),
  [FIELD_SCALE_U] = /* xgettext:no-c-format */ N_ ("A part from 0 to 50 % is wanted."),
  [FIELD_EXPANSION] = N_ ("An expansion from 0 to 1000 millionths per °C is wanted."),
  [FIELD_TEMPERATURE] = N_ ("A temperature from −100 to 500 °C is wanted."),
};

#define PER_MILLION 1e-6

/* Under which a row knows the entry of each field. */
static const char *const keys[N_FIELDS] = { "name", "u", "resolution", "scale_u", "expansion", "temperature" };

struct _TrammelInstrumentsEditor
{
  GtkWidget parent_instance;

  TrammelSession *session;
  GtkWidget *rows; /* box of a box each, of two lines: name, u, remove; the other fields */
  GtkWidget *part; /* line of the printed part: label, expansion, temperature */
  GtkWidget *trouble;
  GtkWidget *add;
  gboolean filling;
};

G_DEFINE_FINAL_TYPE (TrammelInstrumentsEditor, trammel_instruments_editor, GTK_TYPE_WIDGET)

static const TrammelInstrument *
instruments_of (TrammelInstrumentsEditor *self, gsize *n)
{
  return trammel_machine_instruments (trammel_session_machine (self->session), n);
}

static const TrammelUnit *
unit_of (TrammelInstrumentsEditor *self)
{
  return trammel_machine_display_unit (trammel_session_machine (self->session));
}

static void
say_trouble (TrammelInstrumentsEditor *self, GtkWidget *entry, const char *reason)
{
  gtk_label_set_text (GTK_LABEL (self->trouble), reason ? reason : "");
  gtk_widget_set_visible (self->trouble, reason != NULL);
  if (!entry)
    return;
  trammel_rewrite_refused (entry, reason != NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, reason ? reason : "",
                                  -1);
}

static gsize
index_of_row (TrammelInstrumentsEditor *self, GtkWidget *child)
{
  GtkWidget *row = child;
  gsize i = 0;
  while (gtk_widget_get_parent (row) != self->rows)
    row = gtk_widget_get_parent (row);
  for (GtkWidget *w = gtk_widget_get_first_child (self->rows); w && w != row; w = gtk_widget_get_next_sibling (w))
    i++;
  return i;
}

/* A copy to change; its names are borrowed. (transfer container) */
static TrammelInstrument *
copy_of_instruments (TrammelInstrumentsEditor *self, gsize room, gsize *n)
{
  const TrammelInstrument *all = instruments_of (self, n);
  TrammelInstrument *copy = g_new0 (TrammelInstrument, *n + room);
  for (gsize i = 0; i < *n; i++)
    copy[i] = all[i];
  return copy;
}

static void
put (TrammelInstrumentsEditor *self, const TrammelInstrument *instruments, gsize n, const char *what)
{
  const TrammelMachine *machine = trammel_session_machine (self->session);
  trammel_session_edit (self->session, trammel_machine_with_instruments (machine, instruments, n), what, NULL);
}

/* (transfer full) */
static TrammelReadings *
readings_renamed (const TrammelReadings *readings, const char *from, GRefString *to)
{
  gsize n;
  const TrammelReading *rows = trammel_readings_rows (readings, &n);
  g_autoptr (TrammelReadings) copy = trammel_readings_splice (readings, 0, n, rows, n);
  /* Nobody else has the copy yet */
  TrammelReading *copies = (TrammelReading *)trammel_readings_rows (copy, &n);
  for (gsize i = 0; i < n; i++)
    if (g_strcmp0 (copies[i].instrument, from) == 0)
      {
        g_ref_string_release (copies[i].instrument);
        copies[i].instrument = g_ref_string_acquire (to);
      }
  return g_steal_pointer (&copy);
}

static void
rename_to (TrammelInstrumentsEditor *self, gsize i, const char *name)
{
  gsize n;
  g_autofree TrammelInstrument *all = copy_of_instruments (self, 0, &n);
  g_autofree char *old = g_strdup (all[i].name);
  GRefString *new_name = g_ref_string_new_intern (name);
  all[i].name = new_name;

  const TrammelMachine *machine = trammel_session_machine (self->session);
  g_autoptr (TrammelMachine) renamed = trammel_machine_with_instruments (machine, all, n);
  g_autoptr (TrammelReadings) readings = readings_renamed (trammel_machine_readings (machine), old, new_name);
  trammel_session_edit (self->session, trammel_machine_with_readings (renamed, readings), _ ("rename an instrument"),
                        NULL);
  g_ref_string_release (new_name);
}

static const char *
trouble_with_name (TrammelInstrumentsEditor *self, gsize i, const char *name)
{
  gsize n;
  const TrammelInstrument *all = instruments_of (self, &n);
  if (*name == '\0')
    return _ ("An instrument needs a name.");
  for (gsize k = 0; k < n; k++)
    if (k != i && g_str_equal (all[k].name, name))
      return _ ("Another instrument has this name.");
  return NULL;
}

static void
name_entered (TrammelInstrumentsEditor *self, GtkWidget *entry)
{
  gsize n, i = index_of_row (self, entry);
  const TrammelInstrument *all = instruments_of (self, &n);
  g_autofree char *name = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry))));
  if (i >= n || g_str_equal (name, all[i].name))
    return;
  const char *reason = trouble_with_name (self, i, name);
  say_trouble (self, entry, reason);
  if (!reason)
    rename_to (self, i, name);
}

static char *
with_unit (double value, const char *unit)
{
  g_autofree char *number = trammel_display_significant (value, 6);
  return g_strconcat (number, " ", unit, NULL);
}

/* (transfer full): "" where nothing is given. */
static char *
text_of (TrammelInstrumentsEditor *self, const TrammelInstrument *instrument, Field field)
{
  const double factor = trammel_unit_factor (unit_of (self));
  const char *symbol = trammel_unit_symbol (unit_of (self));
  switch (field)
    {
    case FIELD_U:
      return with_unit (instrument->u / factor, symbol);
    case FIELD_RESOLUTION:
      return instrument->resolution > 0 ? with_unit (instrument->resolution / factor, symbol) : g_strdup ("");
    case FIELD_SCALE_U:
      return instrument->scale_u > 0 ? with_unit (100 * instrument->scale_u, "%") : g_strdup ("");
    case FIELD_EXPANSION:
      return instrument->thermal.expansion > 0 ? with_unit (instrument->thermal.expansion / PER_MILLION, "10⁻⁶/°C")
                                               : g_strdup ("");
    case FIELD_TEMPERATURE:
      return instrument->thermal.has_temperature ? with_unit (instrument->thermal.temperature, "°C") : g_strdup ("");
    case FIELD_NAME:
    default:
      return g_strdup (instrument->name);
    }
}

/* A number with or without @unit behind it. Blank: 0. */
static gboolean
read_plain (const char *text, const char *unit, double *out, GError **error)
{
  g_autofree char *number = g_strstrip (g_strdup (text));
  if (g_str_has_suffix (number, unit))
    number[strlen (number) - strlen (unit)] = '\0';
  *out = 0;
  return *g_strstrip (number) == '\0'
         || trammel_quantity_parse_value (number, TRAMMEL_DIMENSION_NUMBER, NULL, out, error);
}

static gboolean
read_percent (const char *text, double *out, GError **error)
{
  if (!read_plain (text, "%", out, error))
    return FALSE;
  *out /= 100;
  return TRUE;
}

static gboolean
is_blank (const char *text)
{
  g_autofree char *stripped = g_strstrip (g_strdup (text));
  return *stripped == '\0';
}

/* NULL when @text is good, else why not; borrowed from @why or static. */
static const char *
read_field (TrammelInstrumentsEditor *self, Field field, const char *text, TrammelInstrument *instrument, GError **why)
{
  gboolean read = TRUE;
  switch (field)
    {
    case FIELD_U:
      read = trammel_quantity_parse_value (text, TRAMMEL_DIMENSION_LENGTH, unit_of (self), &instrument->u, why);
      if (read && !(instrument->u > 0))
        return _ ("An uncertainty of more than 0 is wanted.");
      break;
    case FIELD_RESOLUTION:
      instrument->resolution = 0;
      read = is_blank (text)
             || trammel_quantity_parse_value (text, TRAMMEL_DIMENSION_LENGTH, unit_of (self), &instrument->resolution,
                                              why);
      break;
    case FIELD_SCALE_U:
      read = read_percent (text, &instrument->scale_u, why);
      break;
    case FIELD_EXPANSION:
      read = read_plain (text, "10⁻⁶/°C", &instrument->thermal.expansion, why);
      instrument->thermal.expansion *= PER_MILLION;
      break;
    case FIELD_TEMPERATURE:
      instrument->thermal.has_temperature = !is_blank (text);
      read = read_plain (text, "°C", &instrument->thermal.temperature, why);
      break;
    case FIELD_NAME:
    default:
      break;
    }
  if (!read)
    return (*why)->message;
  return trammel_instrument_details_are_usable (instrument) ? NULL : _ (wanted[field]);
}

static void
amount_entered (TrammelInstrumentsEditor *self, GtkWidget *entry, Field field)
{
  gsize n, i = index_of_row (self, entry);
  g_autofree TrammelInstrument *all = copy_of_instruments (self, 0, &n);
  g_autoptr (GError) error = NULL;
  if (i >= n)
    return;
  const char *text = gtk_editable_get_text (GTK_EDITABLE (entry));
  g_autofree char *shown = text_of (self, &all[i], field);
  /* What is shown is rounded: left as it is, it is no edit */
  const char *reason = g_str_equal (text, shown) ? NULL : read_field (self, field, text, &all[i], &error);
  say_trouble (self, entry, reason);
  if (!reason && !g_str_equal (text, shown))
    put (self, all, n, _ ("change an instrument"));
}

/* The printed part's warmth is that of an instrument without a name. */
static TrammelInstrument
part_of (TrammelInstrumentsEditor *self)
{
  return (TrammelInstrument){ .u = 1, .thermal = *trammel_machine_part (trammel_session_machine (self->session)) };
}

static void
part_entered (TrammelInstrumentsEditor *self, GtkWidget *entry, Field field)
{
  const TrammelMachine *machine = trammel_session_machine (self->session);
  const char *text = gtk_editable_get_text (GTK_EDITABLE (entry));
  TrammelInstrument part = part_of (self);
  g_autofree char *shown = text_of (self, &part, field);
  g_autoptr (GError) error = NULL;
  const char *reason = g_str_equal (text, shown) ? NULL : read_field (self, field, text, &part, &error);
  say_trouble (self, entry, reason);
  if (!reason && !g_str_equal (text, shown))
    trammel_session_edit (self->session, trammel_machine_with_part (machine, &part.thermal),
                          _ ("change the warmth of the part"), NULL);
}

static void
entered (GtkWidget *entry, TrammelInstrumentsEditor *self)
{
  Field field = (Field)GPOINTER_TO_INT (g_object_get_data (G_OBJECT (entry), "field"));
  if (self->filling || !gtk_widget_get_mapped (entry))
    return;
  if (gtk_widget_get_parent (entry) == self->part)
    part_entered (self, entry, field);
  else if (field == FIELD_NAME)
    name_entered (self, entry);
  else
    amount_entered (self, entry, field);
}

static void
entry_left (GtkEventController *controller, TrammelInstrumentsEditor *self)
{
  entered (gtk_event_controller_get_widget (controller), self);
}

static void
removed (GtkWidget *button, TrammelInstrumentsEditor *self)
{
  gsize n, i = index_of_row (self, button);
  g_autofree TrammelInstrument *all = copy_of_instruments (self, 0, &n);
  if (i >= n)
    return;
  for (gsize k = i; k + 1 < n; k++)
    all[k] = all[k + 1];
  say_trouble (self, NULL, NULL);
  put (self, all, n - 1, _ ("remove an instrument"));
}

static char *
unused_name (TrammelInstrumentsEditor *self)
{
  for (gsize k = 1;; k++)
    {
      g_autofree char *name
          = k == 1 ? g_strdup (_ ("new instrument")) : g_strdup_printf (_ ("new instrument %d"), (int)k);
      if (!trouble_with_name (self, G_MAXSIZE, name))
        return g_steal_pointer (&name);
    }
}

static GtkWidget *
entry_of (GtkWidget *row, Field field)
{
  return g_object_get_data (G_OBJECT (row), keys[field]);
}

static void
add_clicked (GtkWidget *button, TrammelInstrumentsEditor *self)
{
  gsize n;
  g_autofree TrammelInstrument *all = copy_of_instruments (self, 1, &n);
  g_autofree char *name = unused_name (self);
  GRefString *shared = g_ref_string_new (name);
  all[n] = (TrammelInstrument){ .name = shared, .u = TRAMMEL_DEFAULT_U };
  put (self, all, n + 1, _ ("add an instrument"));
  g_ref_string_release (shared);

  GtkWidget *row = gtk_widget_get_last_child (self->rows);
  if (row)
    gtk_widget_grab_focus (entry_of (row, FIELD_NAME));
}

static GtkWidget *
make_entry (TrammelInstrumentsEditor *self, GtkWidget *row, GtkWidget *line, Field field)
{
  static const int widths[N_FIELDS] = { 10, 8, 7, 7, 11, 6 };
  int width = widths[field];
  GtkWidget *entry = gtk_entry_new ();
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), width);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), width + 4);
  gtk_widget_set_hexpand (entry, field == FIELD_NAME || field == FIELD_EXPANSION);
  if (placeholders[field])
    gtk_entry_set_placeholder_text (GTK_ENTRY (entry), _ (placeholders[field]));
  g_object_set_data (G_OBJECT (entry), "field", GINT_TO_POINTER ((int)field));
  g_object_set_data (G_OBJECT (row), keys[field], entry);
  g_signal_connect (entry, "activate", G_CALLBACK (entered), self);
  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_signal_connect (focus, "leave", G_CALLBACK (entry_left), self);
  gtk_widget_add_controller (entry, focus);
  gtk_box_append (GTK_BOX (line), entry);
  return entry;
}

static GtkWidget *
make_row (TrammelInstrumentsEditor *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  GtkWidget *first = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *second = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *remove = gtk_button_new_from_icon_name ("list-remove-symbolic");
  make_entry (self, row, first, FIELD_NAME);
  make_entry (self, row, first, FIELD_U);
  gtk_button_set_has_frame (GTK_BUTTON (remove), FALSE);
  g_signal_connect (remove, "clicked", G_CALLBACK (removed), self);
  g_object_set_data (G_OBJECT (row), "remove", remove);
  gtk_box_append (GTK_BOX (first), remove);
  for (int field = FIELD_RESOLUTION; field < N_FIELDS; field++)
    make_entry (self, row, second, (Field)field);
  gtk_box_append (GTK_BOX (row), first);
  gtk_box_append (GTK_BOX (row), second);
  return row;
}

/* Takes @label. */
static void
set_label (GtkWidget *widget, char *label)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  trammel_rewrite_tooltip (widget, label);
  g_free (label);
}

static void
set_text (GtkWidget *entry, const char *text)
{
  if (!g_str_equal (gtk_editable_get_text (GTK_EDITABLE (entry)), text))
    gtk_editable_set_text (GTK_EDITABLE (entry), text);
}

static char *
label_of (Field field, const char *name)
{
  g_auto (GStrv) parts = g_strsplit (_ (labels[field]), "%s", 2);
  return g_strjoinv (name, parts);
}

static void
fill_row (TrammelInstrumentsEditor *self, GtkWidget *row, const TrammelInstrument *instrument)
{
  for (int field = FIELD_NAME; field < N_FIELDS; field++)
    {
      GtkWidget *entry = entry_of (row, (Field)field);
      g_autofree char *text = text_of (self, instrument, (Field)field);
      set_text (entry, text);
      set_label (entry, label_of ((Field)field, instrument->name));
    }
  set_label (g_object_get_data (G_OBJECT (row), "remove"), g_strdup_printf (_ ("Remove %s"), instrument->name));
}

static void
fill_part (TrammelInstrumentsEditor *self)
{
  TrammelInstrument part = part_of (self);
  for (int field = FIELD_EXPANSION; field <= FIELD_TEMPERATURE; field++)
    {
      GtkWidget *entry = entry_of (self->part, (Field)field);
      g_autofree char *text = text_of (self, &part, (Field)field);
      set_text (entry, text);
      set_label (entry, label_of ((Field)field, _ ("printed parts")));
    }
}

static void
show (TrammelInstrumentsEditor *self)
{
  gsize n, i = 0;
  const TrammelInstrument *all = instruments_of (self, &n);
  GtkWidget *row = gtk_widget_get_first_child (self->rows), *next;

  self->filling = TRUE;
  fill_part (self);
  for (; i < n; i++)
    {
      if (!row)
        {
          row = make_row (self);
          gtk_box_append (GTK_BOX (self->rows), row);
        }
      fill_row (self, row, &all[i]);
      row = gtk_widget_get_next_sibling (row);
    }
  for (; row; row = next)
    {
      next = gtk_widget_get_next_sibling (row);
      gtk_box_remove (GTK_BOX (self->rows), row);
    }
  self->filling = FALSE;
}

static void
trammel_instruments_editor_dispose (GObject *object)
{
  TrammelInstrumentsEditor *self = TRAMMEL_INSTRUMENTS_EDITOR (object);
  GtkWidget *child;
  self->filling = TRUE;
  if (self->session)
    g_signal_handlers_disconnect_by_data (self->session, self);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))))
    gtk_widget_unparent (child);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (trammel_instruments_editor_parent_class)->dispose (object);
}

static void
trammel_instruments_editor_class_init (TrammelInstrumentsEditorClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = trammel_instruments_editor_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);
}

static void
trammel_instruments_editor_init (TrammelInstrumentsEditor *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));
  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 6);

  self->rows = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_set_parent (self->rows, GTK_WIDGET (self));
  self->part = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *part_label = gtk_label_new (_ ("Printed parts"));
  gtk_label_set_xalign (GTK_LABEL (part_label), 0);
  gtk_widget_set_hexpand (part_label, TRUE);
  gtk_box_append (GTK_BOX (self->part), part_label);
  make_entry (self, self->part, self->part, FIELD_EXPANSION);
  make_entry (self, self->part, self->part, FIELD_TEMPERATURE);
  gtk_widget_set_parent (self->part, GTK_WIDGET (self));
  self->trouble = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (self->trouble), 0);
  gtk_label_set_wrap (GTK_LABEL (self->trouble), TRUE);
  gtk_widget_add_css_class (self->trouble, "trouble");
  gtk_widget_set_visible (self->trouble, FALSE);
  gtk_widget_set_parent (self->trouble, GTK_WIDGET (self));
  self->add = gtk_button_new_with_label (_ ("Add an instrument"));
  gtk_widget_set_halign (self->add, GTK_ALIGN_START);
  g_signal_connect (self->add, "clicked", G_CALLBACK (add_clicked), self);
  gtk_widget_set_parent (self->add, GTK_WIDGET (self));
}

GtkWidget *
trammel_instruments_editor_new (TrammelSession *session)
{
  g_return_val_if_fail (TRAMMEL_IS_SESSION (session), NULL);
  TrammelInstrumentsEditor *self = g_object_new (TRAMMEL_TYPE_INSTRUMENTS_EDITOR, NULL);
  self->session = g_object_ref (session);
  g_signal_connect_swapped (session, "changed", G_CALLBACK (show), self);
  show (self);
  return GTK_WIDGET (self);
}
