/* How a call ended. A diagnostic in the caller's collector says the rest. */
#ifndef TC_BASE_STATUS_H
#define TC_BASE_STATUS_H

typedef enum tc_status {
	TC_OK,        /* done */
	TC_BAD,       /* the input has an error; at least one diagnostic of severity error says which */
	TC_NO_MEMORY, /* an allocation failed; nothing half-made is handed out */
	TC_SYSTEM     /* the system refused (open, read, write); a diagnostic names the file and the reason */
} tc_status;

#endif
