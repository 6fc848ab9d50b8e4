/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/notice.h"

G_BEGIN_DECLS

/* The messages under the header bar: nothing pops up over the work. */
#define TRAMMEL_TYPE_NOTICES (trammel_notices_get_type ())
G_DECLARE_FINAL_TYPE (TrammelNotices, trammel_notices, TRAMMEL, NOTICES, GtkWidget)

/* Shows a message; one of the same @key that is still there is replaced. */
void trammel_notices_show (TrammelNotices *notices, const char *key, TrammelNoticeKind kind, const char *text,
                           const TrammelAnswer *answers, gsize n_answers);
void trammel_notices_dismiss (TrammelNotices *notices, const char *key);

G_END_DECLS
