/*
 * The timetable: when each step of a recipe is done, by a person with one pair of hands and so many hours.
 *
 * Each step becomes one task, and a coat whose pauses are longer than anybody stands by becomes one task for each pass; a
 * wait is no task but a bound on what follows. What bounds them: the order on each body, the waits of the recipe, flash,
 * windows, ages and pot lives of the materials, the hours of the calendar, and what rules ask for ("wait so much longer").
 * Bodies go side by side: while one dries, the hands are free for another. An area and its whole part are one body.
 *
 * All times are s from the calendar's origin. Lives in the arena that it is given.
 */
#ifndef TC_PLAN_TIMETABLE_H
#define TC_PLAN_TIMETABLE_H

#include "judge/judge.h"
#include "plan/calendar.h"
#include "plan/network.h"

/* Where a bound comes from. */
typedef enum tc_bound_kind {
	TC_BOUND_ORDER,  /* one after the other on the same body, as written */
	TC_BOUND_HANDS,  /* one pair of hands */
	TC_BOUND_WAIT,   /* a `wait` of the recipe: at least so long */
	TC_BOUND_FLASH,  /* the pause between two passes */
	TC_BOUND_WINDOW, /* when the next layer may follow */
	TC_BOUND_AGE,    /* from when on it may be sanded, masked, polished */
	TC_BOUND_POT,    /* how long a mix lasts; how long it must stand */
	TC_BOUND_RULE,   /* a rule asks for more, or less, time */
	TC_BOUND_HOURS,  /* the calendar: work lies in a session */
	TC_BOUND_START   /* nothing before the plan's start */
} tc_bound_kind;
/* order, hands, wait, flash, window, age, pot, rule, hours, start. Static. */
const char *tc_bound_kind_name(tc_bound_kind kind);

/* From the end of one task to the beginning of another: the distance lies in one of the windows. */
typedef struct tc_bound {
	tc_bound_kind kind;
	uint32_t from, to; /* tasks; `from` TC_NONE: from the plan's start, or for TC_BOUND_HOURS nothing */
	bool to_end;       /* holds for the end of `to` instead of its beginning (pot life: the last pass must still be laid) */
	uint32_t windows;  /* 1 to TC_NETWORK_WINDOWS_MAX; 0 for TC_BOUND_HOURS */
	tc_span window[TC_NETWORK_WINDOWS_MAX]; /* s, rising; the last `to` may be INFINITY */
	const char *text;    /* for a person: `grey primer wants 10 min to 48 h before the next layer` */
	bool assumed;        /* rests on a family's figure, not on what the recipe or its shelf says */
	tc_place place;      /* where the recipe or the rulebook says it; file NULL: nowhere */
	const tc_rule *rule; /* of TC_BOUND_RULE, else NULL */
} tc_bound;

typedef struct tc_task {
	const tc_written_step *step;
	uint32_t pass, passes; /* of a coat: first pass of this task, from 0, and how many; else 0, 0 */
	uint64_t parts;        /* as in the step */
	bool attended;         /* hands are needed all the time; else only where it begins and where it ends */
	double lasts;          /* s */
	bool lasts_assumed;    /* usual hand time from the rulebook */
	double temperature;    /* K */
	double start, end;     /* s; NAN without times */
	/* the latest beginning after which all that follows still has its time, when all before it was done as here;
	 * INFINITY: nothing closes. Where that would take too many windows to try, its own start, which is no later */
	double latest;
	uint32_t held_by;      /* the bound that keeps it from beginning earlier; TC_NONE */
	uint32_t closed_by;    /* the bound that closes first on it, directly; TC_NONE */
	double closes;         /* when that closes, s; INFINITY */
} tc_task;

/* How a search for times ended. */
typedef enum tc_table_state {
	TC_TABLE_FOUND,
	TC_TABLE_CONFLICT, /* there is no such plan; `conflict` says why */
	TC_TABLE_UNKNOWN   /* too many windows to try them all: nothing is said */
} tc_table_state;

typedef struct tc_timetable {
	const tc_calendar *calendar;
	tc_table_state state;
	/* by beginning; of tasks that begin together the earlier step first. Without times: in written order */
	uint32_t tasks;
	const tc_task *task;
	uint32_t bounds;
	const tc_bound *bound; /* `from` and `to` are indices of task[] */
	/* indices of bounds that cannot all hold: dropping any one of them would do */
	uint32_t conflicts;
	const uint32_t *conflict;
	bool smallest;         /* it is proved that no fewer bounds conflict */
	bool earliest;         /* no plan with this order of hands ends earlier; else there were too many windows to try them all */
	bool reordered;        /* some task is done before one that the recipe writes earlier, on another body */
	double end;            /* end of the last task, s */
} tc_timetable;

/* What a rule asks for. */
typedef struct tc_asked {
	uint32_t after;     /* number of the step from whose end it counts; 0: the step before `step` on the same body */
	uint32_t step;      /* number of the step whose beginning it bounds */
	uint32_t part;      /* index in the model */
	double least, most; /* s */
	const tc_rule *rule;
	const char *text;   /* as in tc_bound */
	tc_place place;
} tc_asked;

/* Works out the times of a recipe. `model`: of the recipe as written. `more`: what rules ask for besides. A `draft` has no
 * latest moments (INFINITY), which cost as much as all the rest. TC_NO_MEMORY, or TC_OK with *table set. */
tc_status tc_timetable_make(tc_arena *arena, const tc_model *model, const tc_calendar *calendar, const tc_asked *more,
    uint32_t count, bool draft, const tc_timetable **table);

#endif
