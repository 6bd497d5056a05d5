/* sensitivity: slopes of figures at the balance that bk_statics_solve found last.  Private to statics.
 * Clear, probe what the figure hangs on (sums are allowed), then ask for the slopes. */
#ifndef BK_STATICS_SENSITIVITY_H
#define BK_STATICS_SENSITIVITY_H

#include <becket/envelope.h>

#include "rig.h"

void bk_probe_clear(bk_statics *s);
/* EA (L / L0 - 1): the tension, and of a slack line, below nil, how far it is from pulling. */
void bk_probe_stretch(bk_statics *s, size_t line, double sign);
void bk_probe_tension(bk_statics *s, size_t line, double sign);
void bk_probe_pull(bk_statics *s, size_t line, bool on_to, bk_vec3 way);
void bk_probe_from_vertical(bk_statics *s, size_t line);
void bk_probe_tilt(bk_statics *s, size_t body);
/* slope[k]: of the probed figure with parameters[k], per SI unit of the change. */
void bk_probe_slopes(bk_statics *s, const bk_parameter *parameters, size_t n, double *slope);

#endif
