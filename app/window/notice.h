/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef enum
{
  TRAMMEL_NOTICE_INFO,     /* goes away by itself */
  TRAMMEL_NOTICE_TROUBLE,  /* stays until it is put away */
  TRAMMEL_NOTICE_QUESTION, /* stays until it is answered; gets the focus */
} TrammelNoticeKind;

/* A button of a notice: what it says and the action it does ("win.undo", "win.open-recent::file:///…"). */
typedef struct
{
  const char *label;
  const char *action;
} TrammelAnswer;

/* One message in place, with its answers. Signal: dismissed (it has slid away; to be taken out). */
#define TRAMMEL_TYPE_NOTICE (trammel_notice_get_type ())
G_DECLARE_FINAL_TYPE (TrammelNotice, trammel_notice, TRAMMEL, NOTICE, GtkWidget)

GtkWidget *trammel_notice_new (const char *key, TrammelNoticeKind kind, const char *text, const TrammelAnswer *answers,
                               gsize n_answers);
const char *trammel_notice_key (TrammelNotice *notice);
void trammel_notice_dismiss (TrammelNotice *notice);

G_END_DECLS
