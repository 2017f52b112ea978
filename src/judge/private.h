/* What the files of this folder share: the scene of a question, and what a worker keeps. */
#ifndef TC_JUDGE_PRIVATE_H
#define TC_JUDGE_PRIVATE_H

#include "judge/judge.h"
#include "science/attack.h"

/* --- what a worker keeps ------------------------------------------------------------------------------------------ */
#define TC_KEPT_RESULTS 3

/* Results of the science by their exact inputs. Of these a mix, a film and what is asked of it have names: numbers above 0
 * that stand for their bytes and are never given to any others. */
typedef struct tc_kept tc_kept;
tc_kept *tc_kept_new(const tc_allocator *from);
void tc_kept_free(tc_kept *kept);
/* 0: out of memory, and nothing is kept under it. No word may be NAN: it would be known by its bits alone. */
uint32_t tc_kept_name(tc_kept *kept, const double *words, uint32_t count);
/* The results kept under two names, or NULL. They stay valid until the next tc_kept_put. */
const double *tc_kept_get(tc_kept *kept, uint32_t film, uint32_t asked);
/* Keeps results; a full store is emptied first. Out of memory: nothing is kept, which changes no answer. */
void tc_kept_put(tc_kept *kept, uint32_t film, uint32_t asked, const double results[TC_KEPT_RESULTS]);
void tc_kept_count(const tc_kept *kept, uint64_t *asked, uint64_t *found);

/* The rules whose door stands open for a pair of materials (or a verb), and the bolts of at least two of them. A set of
 * these rules has a bit for each, by its place in `rules`. */
#define TC_OPEN_WORDS (TC_RULES_MAX / 64)
typedef struct tc_open_bolt {
	const tc_bolt *bolt;
	const uint64_t *rules; /* a set */
} tc_open_bolt;
typedef struct tc_open {
	uint32_t count;
	const uint32_t *rules; /* by index, in order */
	uint32_t bolts;
	const tc_open_bolt *bolt;
} tc_open;
typedef struct tc_doors tc_doors;
tc_doors *tc_doors_new(const tc_rulebook *rulebook, const tc_allocator *from);
void tc_doors_free(tc_doors *doors);
/* NULL entries: not of this question. verb TC_NONE likewise. NULL: out of memory. Valid as long as the doors. */
const tc_open *tc_doors_open(
    tc_doors *doors, tc_ask ask, const tc_entry *coat, const tc_entry *under, uint32_t verb);

/* Does some rule speak of a pair (tc_rule_speaks_of) that meets at a step of this verb? */
bool tc_doors_spoken(tc_doors *doors, const tc_entry *coat, const tc_entry *under, uint32_t verb);

struct tc_worker {
	const tc_rulebook *rulebook;
	const tc_library *library;
	const tc_allocator *from;
	tc_finder *finder;
	tc_kept *kept;
	tc_doors *doors;
	tc_patterns *patterns;
	struct tc_solvent *solvent; /* by entry; `solvent_state` says whether it was looked at */
	uint64_t *brings;           /* of each entry the set of cautions that it brings up */
	uint8_t *brings_known;      /* of each entry: it was looked at */
	bool brief;                 /* no reasons, no remedies */
	uint8_t *solvent_state;     /* 0 not looked at, 1 Hansen's parameters only, 2 all that drying needs, 3 nothing known */
};

/* --- liquids ------------------------------------------------------------------------------------------------------ */
/* The volatile part of a product as it is used: thinned, with shares by volume among the solvents. */
typedef struct tc_liquid_mix {
	tc_state state;         /* TC_SAID, TC_ASSUMED (a family's typical solvents), TC_UNKNOWN, TC_ABSENT (there is none) */
	bool dries;             /* all that drying needs is known of every solvent */
	uint32_t count;
	uint32_t entry[TC_SCI_COMPONENTS_MAX];
	double share[TC_SCI_COMPONENTS_MAX];
	struct tc_hansen hansen;
	uint32_t name;           /* in tc_kept; 0: it has none */
	const tc_product *lacks; /* whose solvents are unknown */
} tc_liquid_mix;

/* --- the scene ---------------------------------------------------------------------------------------------------- */
/* Everything about a recipe under judgement that fields may need; one for each model. tc_question.user points to it. */
typedef struct tc_scene {
	tc_worker *worker;
	tc_arena *arena;
	const tc_model *model;
	/* the question that is being asked */
	const tc_part *part;
	const tc_part_step *at;
	const tc_contact *contact;
	const tc_touch *touch;
	double now;
	/* made once for the recipe */
	const tc_liquid_mix ***mix;           /* [part][layer]: NULL until asked for */
	const tc_step *const **part_steps;    /* [part]: the steps of a part as pointers */
	const tc_layer *const *layers;        /* of all parts, in order of laying; NULL until asked for */
	uint32_t layer_count;
	const tc_step *const *steps;          /* of the recipe, as pointers; NULL until asked for */
	const tc_part *const *parts;
	bool read_shop[5];                    /* defaults that some deciding leaf read */
} tc_scene;

tc_scene *tc_scene_new(tc_worker *worker, tc_arena *arena, const tc_model *model); /* NULL: out of memory */
const tc_getter *tc_scene_getter(void);

/* The liquid of a layer, kept for the recipe. Never NULL unless out of memory. */
const tc_liquid_mix *tc_scene_mix(tc_scene *scene, const tc_layer *layer);
/* The liquid of a product by itself: its solvents, or itself if it is a solvent. */
void tc_product_mix(tc_worker *worker, const tc_product *product, const tc_thin *thin, tc_liquid_mix *mix);

/* Names a mix, so that what its films do is kept. */
void tc_mix_name(tc_worker *worker, tc_liquid_mix *mix);

/* What lies there as a solid: its sphere. */
typedef struct tc_solid {
	tc_state state; /* of the sphere */
	struct tc_sphere sphere;
	const tc_product *product;
} tc_solid;
tc_solid tc_solid_of(tc_subject of, const void *subject);

/* --- bite: the science's answers for a scene ---------------------------------------------------------------------- */
tc_value tc_bite_red(const tc_liquid_mix *mix, const tc_solid *solid);
/* TC_KEPT_RESULTS on a solid, then as many of the film alone. */
typedef enum tc_bite { TC_BITE_DEPTH, TC_BITE_HOT_TIME, TC_BITE_RED_LEAST, TC_BITE_LEFT, TC_BITE_SET_TIME, TC_BITE_COLDEST } tc_bite;
/* An effect of a layer on a solid (NULL for what concerns the film alone); `bound` for TC_BITE_HOT_TIME. */
tc_value tc_bite_layer(tc_scene *scene, const tc_layer *layer, const tc_solid *solid, tc_bite what, double bound);
tc_value tc_bite_liquid(tc_scene *scene, const tc_liquid *liquid, const tc_solid *solid, tc_bite what);
/* Share of a layer's film that is still liquid at a moment. */
tc_value tc_bite_solvent_left(tc_scene *scene, const tc_layer *layer, double now);
/* The heaviest wet pass whose attack on a solid stays at or below `depth`. */
tc_value tc_bite_heaviest(tc_scene *scene, const tc_layer *layer, const tc_solid *solid, double depth);

/* --- fields by subject -------------------------------------------------------------------------------------------- */
tc_value tc_get_ask(const tc_scene *scene, const tc_question *question, uint32_t field);
tc_value tc_get_recipe(const tc_scene *scene, uint32_t field);
tc_value tc_get_shop(const tc_scene *scene, uint32_t field);
tc_value tc_get_part(const tc_scene *scene, const tc_part *part, uint32_t field);
tc_value tc_get_step(const tc_scene *scene, const tc_step *step, uint32_t field);
tc_value tc_get_layer(tc_scene *scene, const tc_layer *layer, uint32_t field, const tc_value *arguments);
tc_value tc_get_exposed(tc_scene *scene, const tc_exposed *exposed, uint32_t field, const tc_value *arguments);
tc_value tc_get_liquid(tc_scene *scene, const tc_liquid *liquid, uint32_t field, const tc_value *arguments);
tc_value tc_get_product(tc_scene *scene, const tc_product *product, uint32_t field, const tc_value *arguments);
tc_value tc_get_property(tc_subject of, const void *subject, uint32_t field);
const tc_product *tc_subject_product(tc_subject of, const void *subject); /* NULL: has no material */
const tc_layer *tc_subject_layer(tc_subject of, const void *subject);     /* NULL: is none */
uint32_t tc_get_range(const tc_question *question, tc_range range, tc_subject anchor_of, const void *anchor, tc_subject *of,
    const void *const **items);

/* Small makers of values. */
static inline tc_value tc_truth_value(bool yes)
{
	return (tc_value){.state = TC_SAID, .type = TC_T_TRUTH, .truth = yes ? TC_TRUE : TC_FALSE};
}
static inline tc_value tc_typed(tc_type type, double number)
{
	return (tc_value){.state = TC_SAID, .type = (uint8_t)type, .number = number};
}
static inline tc_value tc_symbol_value(uint32_t word)
{
	return word == TC_NONE ? tc_absent(TC_T_SYMBOL) : (tc_value){.state = TC_SAID, .type = TC_T_SYMBOL, .symbol = word};
}
static inline tc_value tc_subject_value(tc_subject of, const void *subject)
{
	if (!subject)
		return (tc_value){.state = TC_ABSENT, .type = TC_T_SUBJECT, .subject = (uint8_t)of};
	return (tc_value){.state = TC_SAID, .type = TC_T_SUBJECT, .subject = (uint8_t)of, .is = subject};
}
static inline tc_value tc_nan_as(tc_value none, tc_type type, double number)
{
	return isnan(number) ? none : tc_typed(type, number);
}

/* --- findings ----------------------------------------------------------------------------------------------------- */
/* A finding while it is being made, and the subject that it is about. */
typedef struct tc_findings {
	tc_scene *scene;
	tc_question question;
	uint32_t count, room;
	tc_finding *at;
	bool bounded; /* the bound of the recipe was hit */
} tc_findings;

/* A question of a scene, with nothing bound yet; and the binding of what the scene is set to (recipe, shop, part, step). */
tc_question tc_question_new(tc_scene *scene, uint32_t *steps_left);
void tc_question_bind(const tc_scene *scene, tc_question *question);

/* Asks all rules of all subjects of the scene's model. */
tc_status tc_ask_all(tc_scene *scene, tc_findings *findings);
/* Asks one rule of all its subjects. */
tc_status tc_ask_one(tc_scene *scene, const tc_rule *rule, bool *fired, bool *unsure);

/* Why the expression that was just decided came out T or U: what decided, and of U what is lacking. False: out of memory. */
typedef struct tc_why {
	uint32_t reasons, needs;
	const tc_reason *reason;
	const tc_need *need;
} tc_why;
bool tc_why_of(tc_question *question, const tc_expr *when, tc_truth truth, tc_why *why);

/* Fills in the message, the reasons, what is needed and what to do. The question is the one that was just decided. */
bool tc_finding_fill(tc_findings *findings, tc_finding *finding, tc_truth truth);
void tc_origin_of(const tc_scene *scene, const struct tc_leaf_path *path, tc_origin *origin, tc_arena *arena);
bool tc_need_of(const tc_scene *scene, const struct tc_leaf_path *path, tc_need *need, tc_arena *arena);
bool tc_advise(tc_findings *findings, tc_finding *finding);

/* Merges what the plan says at two weights of the passes that nobody gave. */
bool tc_merge_passes(tc_findings *light, const tc_findings *medium);

/* Words of a set of cautions. */
static inline size_t tc_caution_words(const tc_library *library)
{
	return tc_library_cautions(library) / 64 + 1;
}
bool tc_gather_cautions(const tc_scene *scene, tc_judgement *judgement);
bool tc_gather_assumptions(const tc_scene *scene, tc_judgement *judgement);

#endif
