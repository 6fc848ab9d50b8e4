/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/notices.h"
#include "window/session.h"

G_BEGIN_DECLS

/* The actions add-axis (s kind), remove-axis, move-axis-up, move-axis-down, next-axis and previous-axis: they act on
 * the selected axis. @map owns none of the other two; all three live as long as the window. */
void trammel_axis_actions_install (GActionMap *map, TrammelSession *session, TrammelNotices *notices);

G_END_DECLS
