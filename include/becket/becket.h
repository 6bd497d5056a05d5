/* Becket: rigging and suspension load calculator.  Includes every public header. */
#ifndef BECKET_BECKET_H
#define BECKET_BECKET_H

#include <becket/report.h>
#include <becket/sheet.h>

#endif
