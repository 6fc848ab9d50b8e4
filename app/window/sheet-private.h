/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/sheet-cells.h"
#include "window/sheet.h"

G_BEGIN_DECLS

/* After the columns that can be edited: the residual, which stays in sight at the right end. */
#define TRAMMEL_SHEET_RESIDUAL TRAMMEL_N_COLUMNS
#define TRAMMEL_SHEET_N_COLUMNS (TRAMMEL_N_COLUMNS + 1)
#define TRAMMEL_SHEET_PADDING 8

typedef enum
{
  TRAMMEL_SHEET_MOVING,   /* arrow keys move between cells; what is typed replaces the cell */
  TRAMMEL_SHEET_ENTERING, /* the cell is being typed anew; arrow keys take it over and move */
  TRAMMEL_SHEET_EDITING,  /* its text is being changed; arrow keys move in the text */
} TrammelSheetMode;

typedef struct
{
  int row, column;
} TrammelSheetCell;

struct _TrammelSheet
{
  GtkWidget parent_instance;

  TrammelSession *session;
  GSimpleActionGroup *actions;
  GtkText *text;          /* over the current cell */
  GtkWidget *choices;     /* popover; made when first wanted */
  GtkWidget *choice_list; /* in it */
  GtkWidget *menu;

  TrammelSheetCell cursor, anchor; /* the block of selected cells lies between them */
  gboolean everything;             /* …or all cells are selected, wherever the current one is */
  TrammelSheetMode mode;
  int tab_column;     /* where Enter returns to after a run of Tab; −1: nowhere */
  gboolean filling;   /* the sheet itself writes to the text */
  gboolean composing; /* an input method is at work */
  gsize typed_length; /* of the text before the last change: more means typing, less means deleting */
  int completed;      /* how many letters were typed of what was completed; 0: nothing was */
  guint completing;   /* the idle that will complete what was typed; 0: none */
  char *message;
  gboolean message_is_trouble;

  GtkAdjustment *horizontal, *vertical;
  GtkScrollablePolicy horizontal_policy, vertical_policy;

  /* Sizes in pixels, made anew when the font or the number of rows changes */
  int row_height, header_height, number_width;
  int allocated_height; /* the last time */
  int widths[TRAMMEL_SHEET_N_COLUMNS];
  int starts[TRAMMEL_N_COLUMNS + 1]; /* from the left end of the first column */
  double digit_width, sign_width;

  /* Most decimals seen so far in a column, so that decimal signs stand under each other */
  int decimals[TRAMMEL_SHEET_N_COLUMNS];
  GHashTable *layouts; /* text → PangoLayout */

  /* A row that the adjustment refuses, and why; −1: none */
  int refused_row;
  char *refused_reason;
};

/* sheet.c */
const TrammelReadings *trammel_sheet_readings (TrammelSheet *self);
const TrammelUnit *trammel_sheet_unit (TrammelSheet *self);
int trammel_sheet_n_rows (TrammelSheet *self); /* with the empty one at the end */
/* NULL for the empty row at the end. */
const TrammelReading *trammel_sheet_row (TrammelSheet *self, int row);
TrammelBlock trammel_sheet_block (TrammelSheet *self);
/* Takes @readings; @what as in trammel_session_edit(). */
void trammel_sheet_put (TrammelSheet *self, TrammelReadings *readings, const char *what);
/* @message is taken; NULL: nothing to say. */
void trammel_sheet_tell (TrammelSheet *self, char *message, gboolean trouble);
/* Emits "list-pasted". */
void trammel_sheet_pass_list_on (TrammelSheet *self, const char *text);
/* Emits "column-pasted". */
void trammel_sheet_tell_of_column (TrammelSheet *self, const TrammelBlock *block);
/* Makes the cell current, as far as there is one; @extend: the selected block grows to it. */
void trammel_sheet_move_to (TrammelSheet *self, int row, int column, gboolean extend);
void trammel_sheet_select (TrammelSheet *self, const TrammelBlock *block);
/* All cells; the current one stays, so that typing goes on there. */
void trammel_sheet_select_everything (TrammelSheet *self);
/* Only the current cell. */
void trammel_sheet_select_cell (TrammelSheet *self);
gboolean trammel_sheet_has_block (TrammelSheet *self);
/* Why the row or the cell does not do. (transfer full) (nullable) */
char *trammel_sheet_trouble_of (TrammelSheet *self, int row, int column);
/* What the residual of the row means, when it is suspect. (transfer full) (nullable) */
char *trammel_sheet_suspicion_of (TrammelSheet *self, int row);

/* sheet-size.c */
void trammel_sheet_measure_font (TrammelSheet *self);
void trammel_sheet_allocate (TrammelSheet *self, int width, int height);
void trammel_sheet_request (TrammelSheet *self, GtkOrientation orientation, int *minimum, int *natural);
/* Scrolls as far as the current cell needs. */
void trammel_sheet_bring_into_sight (TrammelSheet *self);
/* The cell's place in the widget, scrolled; that of the residual is at the right end. */
graphene_rect_t trammel_sheet_cell_bounds (TrammelSheet *self, int row, int column);

/* sheet-entry.c: the text over the current cell */
void trammel_sheet_make_entry (TrammelSheet *self);
/* Writes the current cell to the text; what was being typed is gone. */
void trammel_sheet_fill_entry (TrammelSheet *self);
/* Takes over what was typed. */
void trammel_sheet_commit (TrammelSheet *self);
/* The text of the cell is changed; it is typed anew. */
void trammel_sheet_begin_editing (TrammelSheet *self);
void trammel_sheet_begin_entering (TrammelSheet *self);
/* Puts @text into the current cell. */
void trammel_sheet_take_text (TrammelSheet *self, const char *text);

/* sheet-keys.c */
void trammel_sheet_watch_keys (TrammelSheet *self);
/* sheet-pointer.c */
void trammel_sheet_watch_pointer (TrammelSheet *self);
/* sheet-actions.c */
void trammel_sheet_add_actions (TrammelSheet *self);
void trammel_sheet_open_menu (TrammelSheet *self, double x, double y);

/* sheet-choices.c */
gboolean trammel_sheet_has_choices (TrammelColumn column);
void trammel_sheet_open_choices (TrammelSheet *self);
/* (transfer full) (nullable): the one choice of the column that begins with @typed. */
char *trammel_sheet_completion (TrammelSheet *self, TrammelColumn column, const char *typed);

/* sheet-paint.c */
void trammel_sheet_paint (TrammelSheet *self, GtkSnapshot *snapshot);
const char *trammel_sheet_column_title (int column);

G_END_DECLS
