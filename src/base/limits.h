/* Every bound of the program stands here, once, with its reason. A test stands at each bound and one past it,
 * and the message that a bound causes names it. Sizes are in bytes unless a name says otherwise. */
#ifndef TC_BASE_LIMITS_H
#define TC_BASE_LIMITS_H

/* --- reading ------------------------------------------------------------------------------------------------ */
#define TC_FILE_MAX        (8u << 20)  /* one file; a recipe is some kB, a whole rulebook file some 100 kB */
#define TC_DEPTH_MAX       64u         /* nesting of YAML; libyaml itself has no limit and is quadratic in it */
#define TC_NODES_MAX       400000u     /* nodes of one document, aliases expanded: bounds an alias bomb */
#define TC_SCALAR_MAX      65536u      /* one scalar; the longest honest text is a note of some lines */
#define TC_DOCUMENTS_MAX   1000u       /* documents of one file */
#define TC_MESSAGES_MAX    100u        /* diagnostics kept for one file; the last one says that there are more */
#define TC_MESSAGE_MAX     1024u       /* one message, longer ones end in an ellipsis */

/* --- recipes ------------------------------------------------------------------------------------------------ */
#define TC_PARTS_MAX       64u         /* parts of a recipe: a set of parts is one 64-bit word */
#define TC_STEPS_MAX       256u        /* steps of a recipe, and so of a part */
#define TC_SHELF_MAX       512u        /* shelf labels of a recipe */
#define TC_COATS_MAX       50u         /* passes of one layer */
#define TC_AREAS_MAX       8u          /* named areas of one part */
#define TC_EXPOSED_MAX     64u         /* materials that one part shows at one moment */
#define TC_MIX_PARTS_MAX   4u          /* terms of a ratio such as 4:1:1 */
#define TC_BLEND_MAX       16u         /* solvents of one blend */
#define TC_SESSIONS_MAX    256u        /* texts of `sessions`: a day each, for most of a year */
#define TC_TIME_MAX        (100.0 * 365.25 * 86400.0) /* s; a wait longer than a century is a slip of the pen */

/* --- rulebook ----------------------------------------------------------------------------------------------- */
#define TC_ENTRIES_MAX     4096u       /* kinds and materials together */
#define TC_SYMBOLS_MAX     64u         /* words of one vocabulary: a set of them is one 64-bit word */
#define TC_RULES_MAX       1024u
#define TC_LETS_MAX        1024u
#define TC_KIND_DEPTH_MAX  16u         /* depth of the tree of kinds */

/* --- language ----------------------------------------------------------------------------------------------- */
#define TC_EXPR_TEXT_MAX   4096u       /* one expression */
#define TC_EXPR_DEPTH_MAX  32u         /* parentheses and calls */
#define TC_FOLD_DEPTH_MAX  2u          /* folds within folds */
#define TC_CODE_MAX        512u        /* instructions of one expression after `let` is expanded */
#define TC_STACK_MAX       64u         /* values on the evaluator's stack, known at load */
#define TC_NAMES_MAX       16u         /* subjects bound at once: those of the asked subject, of folds and of lets */
#define TC_STEPS_PER_ASK   100000u     /* instructions for one rule and subject */
#define TC_STEPS_PER_CHECK 50000000u   /* instructions for one recipe */
#define TC_PATTERN_MAX     1024u       /* one pattern */
#define TC_MATCH_LIMIT     100000u     /* PCRE2 match limit */
#define TC_MATCH_DEPTH     1000u       /* PCRE2 depth limit */
#define TC_MATCH_HEAP_KIB  4096u       /* PCRE2 heap limit, KiB */
#define TC_SYMBOL_TEXT_MAX 64u         /* an id */

/* --- plan --------------------------------------------------------------------------------------------------- */
#define TC_NETWORK_STEPS_MAX 20000000u /* bounds looked at in one question to a network: some 100 ms */
#define TC_NETWORK_TRIES_MAX 20000u    /* windows tried in one search */

_Static_assert(TC_PARTS_MAX <= 64 && TC_SYMBOLS_MAX <= 64, "a set of parts or of words is one 64-bit word");

#endif
