/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a person waits for in the window. Prints milliseconds.
 *   window-timing empty START     until an empty window has been painted; START: monotonic time in µs
 *   window-timing trammel START   until the first frame, and until the frame with all that the window holds
 *   window-timing edit PAGE       one edit to the end of the redraw it causes, on a machine with 1,000 readings and a
 *                                 train of twelve gears: the work of the edit and of its frame, without the wait for
 *                                 the display's next turn: quickest, median and worst by the clock on the wall, then
 *                                 the medians of the processor's time for changing the value and the widgets, for
 *                                 laying out, and for painting */
#include <gtk/gtk.h>
#include <stdlib.h>
#include <time.h>

#include "drive/stage.h"
#include "window/application.h"
#include "window/window.h"

#define PAIRS 6
#define READINGS 1000
#define EDITS 60
/* The first edits load fonts and make widgets that later ones find. */
#define WARMING 10

/* Milliseconds: by the clock on the wall; and of the processor, which tells the cost of the parts on a busy machine. */
typedef struct
{
  double whole;
  double change, layout, paint;
} Edit;

typedef struct
{
  const char *mode, *page;
  gint64 start, frame_start, edit_time;
  double change, begun, laid_out; /* processor time */
  guint frames, edits;
  gboolean waiting;
  Edit times[EDITS];
  GtkWindow *window;
} Bench;

static double
milliseconds_since (gint64 start)
{
  return (double)(g_get_monotonic_time () - start) / 1000;
}

/* Milliseconds of this thread. */
static double
processor_time (void)
{
  struct timespec time;
  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &time);
  return (double)time.tv_sec * 1e3 + (double)time.tv_nsec / 1e6;
}

static void
quit (Bench *bench)
{
  fflush (stdout);
  _Exit (0); /* no question about unsaved work */
}

static TrammelTrain *
train_of_twelve_gears (const TrammelTrain *train)
{
  TrammelTrain *result = trammel_train_ref (train);
  while (trammel_train_n_stages (result) < PAIRS)
    {
      g_autoptr (TrammelRecord) stage = trammel_record_new (trammel_stage_kind ("spur"));
      TrammelTrain *longer = trammel_train_with_stage_inserted (result, 0, stage, NULL);
      trammel_train_unref (result);
      result = longer;
    }
  return result;
}

static TrammelReadings *
thousand_readings (void)
{
  GArray *rows = trammel_reading_array_new (READINGS);
  for (int i = 0; i < READINGS; i++)
    {
      TrammelReading row;
      trammel_reading_init (&row);
      row.kind = i % 2 ? TRAMMEL_READING_OUTSIDE : TRAMMEL_READING_INSIDE;
      row.has_along = trammel_direction_parse (i % 3 ? "X" : "Y", &row.along, NULL);
      row.nominal = 20 + i % 80;
      row.measured = row.nominal * 0.996 + (row.kind == TRAMMEL_READING_OUTSIDE ? 0.2 : -0.2) + 0.01 * (i % 7 - 3);
      g_array_append_val (rows, row);
    }
  return trammel_readings_take (rows);
}

static void
open_large_machine (Bench *bench)
{
  TrammelSession *session = trammel_window_session (TRAMMEL_WINDOW (bench->window));
  const TrammelMachine *machine = trammel_session_machine (session);
  g_autoptr (TrammelTrain) train = train_of_twelve_gears (trammel_axis_train (trammel_machine_axis (machine, 0)));
  g_autoptr (TrammelMachine) with_train = trammel_machine_with_train (machine, 0, train);
  g_autoptr (TrammelReadings) readings = thousand_readings ();
  trammel_session_open (session, trammel_machine_with_readings (with_train, readings), NULL, FALSE);
  trammel_window_show_page (TRAMMEL_WINDOW (bench->window), bench->page);
}

static TrammelMachine *
edit_teeth (const TrammelMachine *machine, guint turn)
{
  const TrammelTrain *train = trammel_axis_train (trammel_machine_axis (machine, 0));
  g_autoptr (TrammelRecord) stage
      = trammel_record_with_integer (trammel_train_stage (train, 2), "driven", turn % 2 ? 36 : 37, NULL);
  return trammel_machine_with_stage (machine, 0, 2, stage);
}

static TrammelMachine *
edit_reading (const TrammelMachine *machine, guint turn)
{
  const TrammelReadings *readings = trammel_machine_readings (machine);
  TrammelReading row;
  trammel_reading_copy (trammel_readings_get (readings, 5), &row);
  row.measured += turn % 2 ? 0.01 : -0.01;
  g_autoptr (TrammelReadings) changed = trammel_readings_splice (readings, 5, 1, &row, 1);
  trammel_reading_clear (&row);
  return trammel_machine_with_readings (machine, changed);
}

static gboolean
make_edit (gpointer data)
{
  Bench *bench = data;
  TrammelSession *session = trammel_window_session (TRAMMEL_WINDOW (bench->window));
  const TrammelMachine *machine = trammel_session_machine (session);
  gint64 before = g_get_monotonic_time ();
  double begun = processor_time ();

  bench->waiting = TRUE;
  trammel_session_edit (session,
                        g_str_equal (bench->page, "drive") ? edit_teeth (machine, bench->edits)
                                                           : edit_reading (machine, bench->edits),
                        "edit", NULL);
  bench->edit_time = g_get_monotonic_time () - before;
  bench->change = processor_time () - begun;
  return G_SOURCE_REMOVE;
}

static int
compare_doubles (const void *a, const void *b)
{
  double difference = *(const double *)a - *(const double *)b;
  return (difference > 0) - (difference < 0);
}

/* Of the edits past the warming: the one @part of the way through from the quickest to the slowest. */
static double
quantile (const Bench *bench, gsize member, double part)
{
  double values[EDITS - WARMING];
  for (int i = 0; i < EDITS - WARMING; i++)
    values[i] = G_STRUCT_MEMBER (double, &bench->times[WARMING + i], member);
  qsort (values, G_N_ELEMENTS (values), sizeof (double), compare_doubles);
  return values[(gsize)(part * (G_N_ELEMENTS (values) - 1))];
}

static void
print_edits (const Bench *bench)
{
  gsize whole = G_STRUCT_OFFSET (Edit, whole);
  g_print ("%.3f %.3f %.3f %.3f %.3f %.3f\n", quantile (bench, whole, 0), quantile (bench, whole, 0.5),
           quantile (bench, whole, 1), quantile (bench, G_STRUCT_OFFSET (Edit, change), 0.5),
           quantile (bench, G_STRUCT_OFFSET (Edit, layout), 0.5), quantile (bench, G_STRUCT_OFFSET (Edit, paint), 0.5));
}

static void
edit_was_drawn (Bench *bench)
{
  Edit *edit = &bench->times[bench->edits++];

  bench->waiting = FALSE;
  edit->whole = (double)(bench->edit_time + g_get_monotonic_time () - bench->frame_start) / 1000;
  edit->change = bench->change;
  edit->layout = bench->laid_out - bench->begun;
  edit->paint = processor_time () - bench->laid_out;
  if (bench->edits < EDITS)
    {
      g_timeout_add (40, make_edit, bench);
      return;
    }
  print_edits (bench);
  quit (bench);
}

static void
frame_begins (GdkFrameClock *clock, Bench *bench)
{
  bench->frame_start = g_get_monotonic_time ();
  bench->begun = bench->laid_out = processor_time ();
}

static void
layout_ends (GdkFrameClock *clock, Bench *bench)
{
  bench->laid_out = processor_time ();
}

/* The drawing is the last thing that a start brings. */
static gboolean
shows_a_train (GtkWidget *widget)
{
  if (g_str_equal (gtk_widget_get_css_name (widget), "traincanvas"))
    return gtk_widget_get_mapped (widget);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child; child = gtk_widget_get_next_sibling (child))
    if (shows_a_train (child))
      return TRUE;
  return FALSE;
}

static void
frame_ends (GdkFrameClock *clock, Bench *bench)
{
  bench->frames++;
  if (g_str_equal (bench->mode, "edit"))
    {
      if (bench->waiting)
        edit_was_drawn (bench);
      return;
    }
  gboolean empty = g_str_equal (bench->mode, "empty"), whole = !empty && shows_a_train (GTK_WIDGET (bench->window));
  if (bench->frames == 1 || whole)
    g_print ("%.3f ", milliseconds_since (bench->start));
  if (empty || whole)
    quit (bench);
}

static void
watch_frames (GtkWidget *widget, Bench *bench)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock (widget);
  g_signal_connect (clock, "before-paint", G_CALLBACK (frame_begins), bench);
  g_signal_connect_after (clock, "layout", G_CALLBACK (layout_ends), bench);
  g_signal_connect_after (clock, "after-paint", G_CALLBACK (frame_ends), bench);
}

static gboolean
begin_edits (gpointer data)
{
  Bench *bench = data;
  open_large_machine (bench);
  g_timeout_add (1000, make_edit, bench);
  return G_SOURCE_REMOVE;
}

static void
window_added (GtkApplication *application, GtkWindow *window, Bench *bench)
{
  bench->window = window;
  if (gtk_widget_get_realized (GTK_WIDGET (window)))
    watch_frames (GTK_WIDGET (window), bench);
  else
    g_signal_connect_after (window, "realize", G_CALLBACK (watch_frames), bench);
  if (g_str_equal (bench->mode, "edit"))
    g_timeout_add (1000, begin_edits, bench);
}

static void
show_empty (GtkApplication *application, gpointer data)
{
  GtkWidget *window = gtk_application_window_new (application);
  gtk_window_set_default_size (GTK_WINDOW (window), 1180, 760);
  gtk_window_present (GTK_WINDOW (window));
}

int
main (int argc, char **argv)
{
  Bench bench = { 0 };
  g_autoptr (GtkApplication) application = NULL;

  if (argc != 3)
    return 2;
  bench.mode = argv[1];
  bench.page = argv[2];
  bench.start = g_ascii_strtoll (argv[2], NULL, 10);
  if (g_str_equal (bench.mode, "empty"))
    {
      application = gtk_application_new (TRAMMEL_APPLICATION_ID ".Empty", G_APPLICATION_NON_UNIQUE);
      g_signal_connect (application, "activate", G_CALLBACK (show_empty), NULL);
    }
  else
    application = GTK_APPLICATION (trammel_application_new ());
  g_signal_connect (application, "window-added", G_CALLBACK (window_added), &bench);
  return g_application_run (G_APPLICATION (application), 1, argv);
}
