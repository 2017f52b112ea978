/* Text as XML has it. Written out here and not by libxml2, whose writer prints on standard error where memory fails and keeps
 * state for the whole process; what is needed of it is five characters to escape. */
#ifndef TC_REPORT_XML_H
#define TC_REPORT_XML_H

#include "base/text.h"

/* Appends text between tags: markup escaped, bytes that are not UTF-8 and characters that XML has not as U+FFFD, control
 * characters made visible. */
void tc_xml_text(tc_buffer *out, const char *text);
/* Appends ` name="value"`, line ends kept. */
void tc_xml_attribute(tc_buffer *out, const char *name, const char *value);
void tc_xml_count(tc_buffer *out, const char *name, uint32_t value);

#endif
