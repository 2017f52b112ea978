/* The rule language from the inside: what its files share.
 *
 * The way of an expression: text → lex.c (words) → syntax.c (a tree of tc_ast, names unresolved) → type.c with let.c (names,
 * types and dimensions; lets grafted in place) → guard.c (absent under negation) → compile.c (flat instructions, and the
 * tree again as tc_branch, each with its range of instructions). eval.c runs ranges of instructions, explain.c walks the
 * branches and runs their ranges. The trees of tc_ast and all else of a tc_compiler lie in a scratch arena; what tc_expr points
 * to lies in the arena of the rulebook and holds no pointer out of it, so that it can be written as an image. */
#ifndef TC_RULE_PRIVATE_H
#define TC_RULE_PRIVATE_H

#include "base/limits.h"
#include <stddef.h>

#include "rule/eval.h"

/* The end of a message about an unknown word: "; `NEAREST` is near", or `otherwise` where nothing is near. */
#define TC_NEAR_F "%s%.*s%s"
#define TC_NEAR(nearest, otherwise)                                                                                     \
	(nearest).found.length ? "; `" : "", (int)(nearest).found.length, (nearest).found.length ? (nearest).found.at : "", \
	    (nearest).found.length ? "` is near" : (otherwise)
#define TC_TEXT_F(text) (int)(text).length, (text).length ? (text).at : ""

/* --- where an expression stands --------------------------------------------------------------------------------- */
/* A text with an expression in it: (part of) a scalar of a file, or a text of its own. */
typedef struct tc_passage {
	tc_text text;
	const tc_source *source; /* NULL: no file; then `file` and columns alone tell the place */
	const tc_node *scalar;
	uint32_t base;           /* where `text` begins in the scalar's text */
	const char *file;
} tc_passage;

/* --- words (lex.c) ------------------------------------------------------------------------------------------------ */
#define TC_KEYWORDS(X)                                                                                                  \
	X(AND, "and") X(OR, "or") X(NOT, "not") X(IS, "is") X(ONE, "one") X(OF, "of") X(BETWEEN, "between") X(IN, "in")     \
	X(TO, "to") X(ON, "on") X(MATCHES, "matches") X(HAS, "has") X(KNOWN, "known") X(AS, "as") X(ANY, "any")             \
	X(EVERY, "every") X(NO, "no") X(COUNT, "count") X(SUM, "sum") X(LEAST, "least") X(MOST, "most") X(FIRST, "first")   \
	X(LAST, "last") X(EARLIER, "earlier") X(LATER, "later") X(ALL, "all") X(SINCE, "since") X(EXPOSED, "exposed")       \
	X(PASSES, "passes")

typedef enum tc_token_kind {
	TC_TOK_END, TC_TOK_BAD, TC_TOK_NUMBER, TC_TOK_NAME, TC_TOK_ID, TC_TOK_TEXT,
	TC_TOK_PAREN, TC_TOK_PAREN_END, TC_TOK_BRACKET, TC_TOK_BRACKET_END, TC_TOK_COMMA, TC_TOK_POINT,
	TC_TOK_PLUS, TC_TOK_MINUS, TC_TOK_TIMES, TC_TOK_SLASH,
	TC_TOK_LESS, TC_TOK_LESS_SAME, TC_TOK_MORE, TC_TOK_MORE_SAME, TC_TOK_SAME, TC_TOK_NOT_SAME,
	TC_TOK_KEYWORD,
#define X(id, word) TC_TOK_##id,
	TC_KEYWORDS(X)
#undef X
	TC_TOKENS
} tc_token_kind;

typedef struct tc_token {
	tc_token_kind kind;
	uint32_t from, to;
	bool blank_before;
	double number;       /* of a number: as written, `unit` not applied */
	const tc_unit *unit; /* NULL: bare */
} tc_token;

typedef struct tc_lex_error {
	uint32_t at;
	const char *id;
	char message[200];
} tc_lex_error;

/* The token at or after *at. `before`: the kind of the token before it (decides what a `-` is). TC_TOK_BAD fills *error. */
tc_token tc_lex(tc_text text, uint32_t at, tc_token_kind before, tc_lex_error *error);
/* The same to the right of `is`: `not`, `one`, `of`, brackets and commas, and ids. */
tc_token tc_lex_id(tc_text text, uint32_t at, tc_lex_error *error);
/* After a point: any word is a field. */
tc_token tc_lex_field(tc_text text, uint32_t at, tc_lex_error *error);
bool tc_is_keyword(tc_text word);
const char *tc_token_name(tc_token_kind kind); /* of a keyword or a sign: as written */
/* The decoded text of a TC_TOK_TEXT, `''` as one quote; NULL: out of memory. */
const char *tc_lex_text(tc_arena *arena, tc_text text, tc_token token);

/* --- trees (syntax.c) ---------------------------------------------------------------------------------------------- */
typedef enum tc_ast_kind {
	TC_A_BAD, TC_A_NUMBER, TC_A_TEXT, TC_A_NAME, TC_A_FIELD, TC_A_CALL, TC_A_FOLD, TC_A_BIND,
	TC_A_WINDOW_FIRST, TC_A_WINDOW_LAST, TC_A_WINDOW_AFTER, TC_A_SPANS, TC_A_SPAN,
	TC_A_NEGATE, TC_A_ADD, TC_A_SUBTRACT, TC_A_MULTIPLY, TC_A_DIVIDE,
	TC_A_HAS, TC_A_KNOWN, TC_A_COMPARE, TC_A_BETWEEN, TC_A_IN, TC_A_IS, TC_A_MATCHES,
	TC_A_NOT, TC_A_AND, TC_A_OR
} tc_ast_kind;

typedef enum tc_compare_op { TC_LESS, TC_LESS_SAME, TC_MORE, TC_MORE_SAME, TC_SAME, TC_NOT_SAME } tc_compare_op;
typedef enum tc_fold { TC_FOLD_ANY, TC_FOLD_EVERY, TC_FOLD_NO, TC_FOLD_COUNT, TC_FOLD_SUM, TC_FOLD_LEAST, TC_FOLD_MOST,
	TC_FOLD_FIRST, TC_FOLD_LAST } tc_fold;
typedef enum tc_free { TC_FREE_MIN, TC_FREE_MAX, TC_FREE_ABS } tc_free;
extern const char *const tc_compare_names[], *const tc_fold_names[], *const tc_range_names[], *const tc_free_names[];

enum { TC_AST_MAY_BE_ABSENT = 1, TC_AST_NEVER_NEGATIVE = 2, TC_AST_AS_WRITTEN = 4, TC_AST_LITERAL = 8, TC_AST_NEGATED = 16,
	TC_AST_BARE = 32, TC_AST_OPEN = 64, TC_AST_VISIBLE = 128,
	TC_BRANCH_PAIR = 64 /* of a fold that leaves two values: the known part and the most that it can be */ };

typedef struct tc_ast {
	uint8_t kind, type, subject, op; /* op: of tc_compare_op, tc_fold or tc_free */
	uint8_t range, flags, slot, anchor_slot;
	tc_dim dim;
	uint32_t passage;              /* of tc_compiler.passages */
	uint32_t from, to;             /* bytes of the passage's text */
	uint32_t child, next;          /* TC_NONE */
	uint32_t name_from, name_to;   /* of a name, field, call; of a fold: the name that it binds */
	uint32_t of_from, of_to;       /* of a fold: the name after `of` or `since`; to == from: none */
	uint32_t field;                /* of a path, and of what prints with a vocabulary */
	uint32_t ids, ids_count;       /* of `is`: into tc_compiler.ids */
	uint32_t cost, deps;           /* weight; bits of slots that it reads */
	uint32_t start, end;           /* its instructions */
	uint32_t branch;
	double number;
	const char *text;              /* TC_A_TEXT, TC_A_MATCHES */
} tc_ast;

/* An id after `is`: where it stands, and what it turned out to be. */
typedef struct tc_ast_id {
	uint32_t from, to, value;
} tc_ast_id;

/* --- compiling ------------------------------------------------------------------------------------------------------- */
typedef struct tc_let {
	const char *name, *text;
	uint32_t length;
	uint32_t ask;             /* tc_ask */
	uint32_t params;
	const char *param[2];
	uint32_t subject[2];
} tc_let;

typedef enum tc_let_state { TC_LET_NEW, TC_LET_BUSY, TC_LET_GOOD, TC_LET_BAD } tc_let_state;
/* What only a load knows of a let. */
typedef struct tc_let_source {
	tc_passage passage;
	tc_place place;
	tc_let_state state;
} tc_let_source;

typedef struct tc_lets {
	const tc_let *at;
	uint32_t count;
	tc_map names;
	tc_let_source *sources; /* NULL after the load: all are good */
} tc_lets;

/* A name that stands for a subject. */
typedef struct tc_scope_name {
	tc_text name;
	uint8_t slot, subject;
	bool param;           /* of a let: `printed` stands for it in texts */
	const char *printed;
} tc_scope_name;

typedef struct tc_swap {
	uint32_t from, to;
	const char *printed;
} tc_swap;

/* A passage in use: one for each expansion of a let. */
typedef struct tc_opened {
	tc_passage passage;
	const char *let;      /* its name, for messages; NULL: the expression itself */
	uint32_t use, use_at; /* of a let: the passage and the byte where its name stands */
	tc_swap *swaps;       /* names of parameters, in order, and what stands for them */
	uint32_t count, room;
} tc_opened;

#define TC_SCOPE_MAX (TC_NAMES_MAX + TC_FOLD_DEPTH_MAX + 2u * (TC_EXPR_DEPTH_MAX + 1u))
#define TC_ASTS_MAX  (8u * TC_CODE_MAX) /* the end of runaway lets; TC_CODE_MAX is what a message names */

typedef struct tc_compiler {
	const tc_library *library;
	const tc_lets *lets;
	tc_arena *arena, *scratch;
	tc_diags *diags;
	tc_map interned;      /* texts that lie in `arena` already */
	const char **texts;
	uint32_t texts_count, texts_room;
	/* of one expression */
	uint32_t silent;      /* inside lets: they had their messages when they were checked themselves */
	const char *unsaid;   /* the first message that was kept back */
	tc_ast *nodes;
	uint32_t count, room;
	tc_ast_id *ids;
	uint32_t ids_count, ids_room;
	tc_opened *opened;
	uint32_t opened_count, opened_room;
	tc_scope_name scope[TC_SCOPE_MAX];
	uint32_t scope_count;
	uint32_t base_count;  /* the names of the question come first … */
	uint32_t slots;       /* … and of these the ones with such a slot can be seen */
	uint32_t scope_floor; /* of the others those from here on: inside a let those outside are hidden */
	tc_ask ask;
	uint32_t depth, fold_depth;
	uint8_t next_slot;
	tc_scope_name visible[TC_NAMES_MAX]; /* bound by an `any` among the top conjuncts */
	uint32_t visible_count;
	bool broken;          /* a message was given for this expression, or memory was out */
	bool no_memory;       /* for something that no arena knows of */
} tc_compiler;

/* What an expression is wanted for. */
typedef struct tc_request {
	tc_ask ask;
	bool with_new;                /* `new` is in scope */
	const tc_scope_name *names;   /* bound by `any` in the rule's `when` */
	uint32_t names_count;
	tc_type want;                 /* TC_T_BAD: anything */
	const tc_dim *dim;            /* of TC_T_NUMBER; NULL: any */
	bool whole_number;            /* a bare number is meant */
	bool may_end_with_as;         /* a hole: `as` and a unit may follow */
	const char *what;             /* for messages: `when`, `wait` … */
} tc_request;

void tc_compiler_start(tc_compiler *c, const tc_library *library, const tc_lets *lets, tc_arena *arena, tc_arena *scratch,
    tc_diags *diags);
/* Forgets the expression before and puts the names of the question in scope. */
void tc_compiler_reset(tc_compiler *c, const tc_request *request);
/* Builds an expression from a passage. NULL with a diagnostic, or out of memory (the arenas know). c->visible holds the names
 * that its `any`s bind. `rest`: with may_end_with_as, what stands behind `as` (empty if nothing). */
const tc_expr *tc_expr_build(tc_compiler *c, const tc_passage *passage, const tc_request *request, tc_text *rest);

tc_place tc_passage_place(const tc_passage *passage, uint32_t at);
void tc_wrong(tc_compiler *c, const char *id, uint32_t passage, uint32_t at, const char *format, ...)
    __attribute__((format(printf, 5, 6)));
void tc_wrong_related(tc_compiler *c, uint32_t passage, uint32_t at, const char *format, ...)
    __attribute__((format(printf, 4, 5)));
/* The text of a node as written, blanks as one blank, parameters of lets replaced; in scratch, never NULL. */
const char *tc_ast_text(tc_compiler *c, uint32_t node);

/* One copy in the rulebook's arena of each text, however often it is kept. NULL: out of memory. */
const char *tc_intern(tc_compiler *c, tc_text text);

uint32_t tc_ast_new(tc_compiler *c, tc_ast_kind kind, uint32_t passage, uint32_t from); /* TC_NONE: out of memory or bound */
uint32_t tc_parse(tc_compiler *c, uint32_t passage, bool may_end_with_as, tc_text *rest); /* TC_NONE: a message was given */
void tc_check(tc_compiler *c, uint32_t node, bool conjunct);
/* A name that is a let: grafts its body in the node's place. */
void tc_let_graft(tc_compiler *c, uint32_t node, uint32_t let);
/* Checks every let of a load by itself, whether used or not. */
void tc_lets_check(tc_compiler *c, tc_lets *lets);
/* `use`, `use_at`: of a let (its name is `let`, else NULL) the passage and the byte where it is named. TC_NONE: out of memory. */
uint32_t tc_open_passage(tc_compiler *c, const tc_passage *passage, const char *let, uint32_t use, uint32_t use_at);
void tc_guard_check(tc_compiler *c, uint32_t root);
const tc_expr *tc_compile(tc_compiler *c, uint32_t root);
/* What a person calls the type of a node: 'a time', 'a share', 'a layer' … In scratch. */
const char *tc_ast_type_name(tc_compiler *c, uint32_t node);
const char *tc_type_name(tc_arena *scratch, tc_type type, tc_dim dim, tc_subject subject);
uint32_t tc_word_of(const tc_library *library, const char *vocabulary, tc_text word);
void tc_words_each(const tc_library *library, const char *vocabulary, void (*each)(void *user, tc_text word), void *user);

/* Patterns (pattern.c): TC_BAD with a message where the pattern is not allowed or does not compile. */
tc_status tc_pattern_check(const tc_allocator *from, const char *pattern, char message[200], size_t *at);
typedef enum tc_match { TC_MATCH_NO, TC_MATCH_YES, TC_MATCH_CANNOT } tc_match;
tc_match tc_patterns_match(tc_patterns *patterns, const char *pattern, const char *text);

/* --- compiled form ----------------------------------------------------------------------------------------------------- */
#define TC_OPS(X)                                                                                                       \
	X(CONST, "const") X(SLOT, "slot") X(BIND, "bind") X(ASK, "ask") X(FIELD, "field") X(HAS, "has field")               \
	X(HAS_ASK, "has ask") X(HAS_VALUE, "has") X(KNOWN, "known") X(NOT, "not") X(AND, "and") X(OR, "or") \
	X(FALSE_JUMP, "if false") X(TRUE_JUMP, "if true") X(COMPARE, "compare") X(COMPARE_PAIR, "compare part")             \
	X(BETWEEN, "between") X(BETWEEN_PAIR, "between part") X(IN, "in") X(IN_SPANS, "in spans") X(IS_KIND, "is kind")     \
	X(IS_WORD, "is word") X(IS_MEMBER, "is member") X(MATCHES, "matches") X(ADD, "add") X(SUBTRACT, "subtract")         \
	X(MULTIPLY, "multiply") X(DIVIDE, "divide") X(NEGATE, "negate") X(MIN, "min") X(MAX, "max") X(ABS, "abs")           \
	X(WINDOW_FIRST, "first of window") X(WINDOW_LAST, "last of window") X(WINDOW_AFTER, "after in window")              \
	X(FOLD, "fold") X(NEXT, "next") X(ONCE, "once") X(KEEP, "keep")

typedef enum tc_op {
#define X(id, name) TC_OP_##id,
	TC_OPS(X)
#undef X
	TC_OP_COUNT
} tc_op;

/* What is often together is one instruction:
 *   AND, OR with a: and then jump there if false (true)     FIELD without arguments, IS_…, with n: of the slot n - 1
 *   COMPARE with a: with the constant a - 1 */
typedef struct tc_ins {
	uint8_t op, n;
	uint16_t a;
	uint32_t b;
} tc_ins;
/* a of TC_OP_FIELD: the type in the low byte, above it the number of arguments */

/* TC_OP_FOLD: n the memos that its beginning forgets, a the instruction behind its TC_OP_NEXT, b this: */
#define TC_FOLD_PACK(fold, range, slot, depth, flags)                                                                   \
	((uint32_t)(fold) | (uint32_t)(range) << 4 | (uint32_t)(slot) << 8 | (uint32_t)(depth) << 16 | (uint32_t)(flags) << 24)
enum { TC_FOLD_PAIR = 1, TC_FOLD_ANCHORED = 2, TC_FOLD_SHARE = 4, TC_FOLD_TEMPERATURE = 8 };
#define TC_MEMO_MAX 8u

/* A node of the tree as it is kept for explaining. */
typedef struct tc_branch {
	uint8_t kind, type, subject, op;
	uint8_t range, flags, slot, anchor_slot;
	tc_dim dim;
	uint32_t start, end;
	uint32_t child, next;
	uint32_t field;   /* of a number: its constant */
	const char *text; /* NULL where nobody asks for it */
} tc_branch;

struct tc_expr {
	const char *text;
	const tc_ins *code;
	const tc_branch *branches;
	const tc_value *constants;
	const uint32_t *lists;     /* of `is`: count, then words, or the first and the last number of each kind */
	uint32_t length, branch_count, constant_count, list_count;
	uint32_t root;             /* a branch */
	uint32_t stack;            /* values at most */
	uint32_t vocabulary_field; /* whose words it prints with; TC_NONE */
	uint8_t type, subject;
	uint8_t ask;
	tc_dim dim;
};

typedef struct tc_piece {
	const char *text;          /* plain text, or NULL: a hole */
	const tc_expr *expr;
	const char *unit;          /* NULL: by size */
	const tc_expr *when;       /* where the hole's path is compared with a bound; NULL: nowhere */
	uint32_t bounds[2];        /* branches of `when`; TC_NONE */
} tc_piece;

struct tc_template {
	uint32_t count;
	const tc_piece *pieces;
};

/* Runs a range of instructions that leaves one value (two for a fold with its known part). */
tc_value tc_run(tc_question *question, const tc_expr *expr, uint32_t start, uint32_t end, uint32_t budget, tc_value *second);
/* A branch's value; a name and a number may have no instructions of their own. */
tc_value tc_run_branch(tc_question *question, const tc_expr *expr, const tc_branch *branch, uint32_t budget, tc_value *second);
/* `x is K` by the numbers of the kind: as tc_entry_is_truth. */
static inline tc_truth tc_is_within(const tc_entry *entry, uint32_t first, uint32_t last)
{
	if (first <= entry->index && entry->index <= last)
		return TC_TRUE;
	return entry->index <= first && first <= entry->last ? TC_UNSURE : TC_FALSE;
}
tc_truth tc_truth_of(tc_value value); /* as a test: absent is F, unknown U */
/* Prints with so many significant digits, in `unit` if not NULL. */
void tc_value_digits(tc_question *question, tc_value value, tc_dim dim, const char *vocabulary, int digits,
    const tc_unit *unit, tc_buffer *out);
/* The same with more digits until it reads otherwise than the bounds that it differs from. */
void tc_value_beside(tc_question *question, tc_value value, tc_dim dim, const char *vocabulary, const tc_unit *unit,
    const tc_value *bounds, uint32_t count, tc_buffer *out);
const char *tc_vocabulary_of(uint32_t field, tc_field_row *room);

/* --- rules and rulebooks ----------------------------------------------------------------------------------------------- */
/* A test of kind or verb among the top conjuncts of `when`. */
typedef enum tc_door_side { TC_DOOR_COAT, TC_DOOR_UNDER, TC_DOOR_VERB } tc_door_side;
typedef struct tc_door {
	uint8_t side, negated;
	uint16_t count;
	const uint32_t *at; /* words, or the first and the last number of each kind */
} tc_door;
typedef struct tc_doors {
	uint32_t count;
	const tc_door *at;
} tc_doors;
/* Which side of the door an `is` among the top conjuncts stands on; false: on none. */
bool tc_door_side_of(const tc_expr *x, tc_ask ask, const tc_branch *is, tc_door_side *side);
bool tc_doors_find(tc_arena *arena, const tc_expr *when, tc_ask ask, tc_doors *doors);

/* What asks for the science is no bolt: a rule's own cheaper tests may spare it. */
#define TC_BOLT_SCIENCE 1000u
/* Finds the bolts of all rules, which must be sorted by index and compiled. False: out of memory. */
bool tc_bolts_make(tc_arena *arena, tc_arena *scratch, tc_rulebook *book);

const tc_template *tc_template_build(tc_compiler *c, const tc_passage *passage, const tc_request *request,
    const tc_expr *when);

struct tc_rulebook {
	tc_arena *owner;        /* that all of this lies in; NULL in an image */
	tc_arena *trees;        /* YAML of shown_by, or NULL */
	const tc_library *library;
	const tc_rule *rules;
	const tc_doors *doors;  /* of each rule */
	const tc_bolt *bolts[TC_ASK_COUNT];
	const tc_shown_by *const *shown;
	const uint32_t *shown_count;
	const tc_change *changes;
	tc_map ids;
	tc_lets lets;
	uint64_t stamp;
	uint32_t rule_count, change_count;
	uint32_t bolt_count[TC_ASK_COUNT];
};

/* What building a rulebook's rules needs beside the compiler. */
typedef struct tc_rule_reader {
	tc_compiler compiler;
	tc_arena *arena, *scratch;
	tc_diags *diags;
	const tc_collection *collection;
	const tc_library *library;
	tc_rulebook *rulebook;
	const tc_item *item;       /* the rule being read */
	tc_rule *rule;
	bool keep_shown;
	tc_request request;        /* of its expressions: ask and names */
	tc_scope_name names[TC_NAMES_MAX];
	const char **files, **copies; /* names of files, as in the sources and as kept */
	uint32_t files_count, files_room, copies_room;
} tc_rule_reader;

/* Messages at a node, and small values. `source` of the key that is being read. */
#define tc_wrong_at(r, id, source, node, ...)                                                                           \
	tc_diag_add((r)->diags, TC_ERROR, (id), tc_node_place((source), (node)), __VA_ARGS__)
const char *tc_keep(tc_rule_reader *r, tc_text text);       /* a copy in the rulebook's arena */
tc_place tc_place_kept(tc_rule_reader *r, tc_place place);  /* with its file's name in the rulebook's arena */
tc_passage tc_passage_of(const tc_source *source, const tc_node *scalar);
bool tc_expression_node(tc_rule_reader *r, const tc_source *source, const tc_node *map, const tc_node *node, const char *key);

bool tc_rule_read(tc_rule_reader *r, const tc_item *item, tc_rule *rule, uint32_t index);
void tc_remedies_read(tc_rule_reader *r, const tc_source *source, const tc_node *node);
bool tc_lets_read(tc_rule_reader *r);
uint64_t tc_tables_stamp(void);
/* As tc_rulebook_load, into an arena whose first block has so many bytes. */
tc_status tc_rulebook_load_into(const tc_allocator *from, size_t first_block, const tc_rulebook_file *files, size_t count,
    bool keep_shown, tc_diags *diags, tc_rulebook **rulebook);

#endif
