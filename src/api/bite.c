/* One liquid on one solid. */
#include <string.h>

#include "api/private.h"
#include "report/bite.h"

struct tiecoat_answer {
	tiecoat_rulebook *rulebook;
	tc_arena *arena; /* holds the answer itself, too */
	tc_diags *diags;
	const tc_try *trial; /* NULL: what was asked has errors */
	const tiecoat_caution *const *caution;
	tc_messages messages;
	tc_buffer json;
	bool written;
};

_Static_assert(TIECOAT_BITE_NONE == (int)TC_TRY_NONE && TIECOAT_BITE_CRAZES == (int)TC_TRY_CRAZES &&
                   TIECOAT_BITE_SWELLS == (int)TC_TRY_SWELLS && TIECOAT_BITE_DISSOLVES == (int)TC_TRY_DISSOLVES &&
                   TIECOAT_BITE_UNDECIDED == (int)TC_TRY_UNDECIDED,
    "verdicts have the same numbers inside and outside");

/* The smallest that ever was: what a caller of that age hands in. */
#define ASK_SIZE (offsetof(tiecoat_bite_ask, stressed) + sizeof(bool))

static tc_try_ask take_ask(tc_arena *arena, const tiecoat_bite_ask *given)
{
	tiecoat_bite_ask ask = {0};
	memcpy(&ask, given, given->size < sizeof ask ? given->size : sizeof ask);
	return (tc_try_ask){.solid = tc_intake_text(arena, ask.solid),
	    .liquid = tc_intake_text(arena, ask.liquid),
	    .shelf = tc_intake_text(arena, ask.shelf),
	    .pass = tc_intake_text(arena, ask.pass),
	    .wet_film = tc_intake_text(arena, ask.wet_film),
	    .coats = tc_intake_text(arena, ask.coats),
	    .flash = tc_intake_text(arena, ask.flash),
	    .thin = tc_intake_text(arena, ask.thin),
	    .time = tc_intake_text(arena, ask.time),
	    .temperature = tc_intake_text(arena, ask.temperature),
	    .air_speed = tc_intake_text(arena, ask.air_speed),
	    .humidity = tc_intake_text(arena, ask.humidity),
	    .stressed = ask.stressed};
}

static tiecoat_answer *new_answer(tiecoat_worker *worker)
{
	tc_arena *arena = tc_arena_new(&worker->rulebook->from, 0);
	tiecoat_answer *answer = arena ? TC_NEW(arena, tiecoat_answer) : NULL;
	if (!answer) {
		tc_arena_free(arena);
		return NULL;
	}
	*answer = (tiecoat_answer){.rulebook = worker->rulebook, .arena = arena, .diags = tc_diags_new(arena)};
	tc_buffer_start(&answer->json, &worker->rulebook->from);
	tc_rulebook_hold(worker->rulebook);
	return answer;
}

static tc_status bite(
    tiecoat_worker *worker, const tiecoat_bite_ask *given, const tiecoat_beside *beside, tiecoat_answer *a)
{
	tiecoat_beside caller = beside ? *beside : (tiecoat_beside){0};
	const tc_reader reader = {.read = tc_intake_beside, .user = &caller};
	const tc_try_ask ask = take_ask(a->arena, given);
	if (tc_arena_failed(a->arena))
		return TC_NO_MEMORY;
	const tc_status status =
	    tc_try_bite(worker->worker, a->arena, &ask, beside ? &reader : NULL, a->diags, &a->trial);
	if (status == TC_OK)
		a->caution = tc_show_cautions(a->arena, a->trial->caution, a->trial->cautions);
	else
		a->trial = NULL;
	tc_show_messages(a->arena, a->diags, &a->messages);
	return tc_arena_failed(a->arena) ? TC_NO_MEMORY : status;
}

tiecoat_status tiecoat_bite(
    tiecoat_worker *worker, const tiecoat_bite_ask *ask, const tiecoat_beside *beside, tiecoat_answer **answer)
{
	if (!answer)
		return TIECOAT_MISUSE;
	*answer = NULL;
	if (!worker || !ask || ask->size < ASK_SIZE || !ask->solid || !ask->liquid || (beside && !beside->read))
		return TIECOAT_MISUSE;
	tiecoat_answer *made = new_answer(worker);
	const tc_status status = made ? bite(worker, ask, beside, made) : TC_NO_MEMORY;
	if (status == TC_NO_MEMORY) {
		tiecoat_answer_free(made);
		return TIECOAT_NO_MEMORY;
	}
	*answer = made;
	return status == TC_OK ? TIECOAT_OK : TIECOAT_BAD;
}

void tiecoat_answer_free(tiecoat_answer *answer)
{
	if (!answer)
		return;
	tiecoat_rulebook *rulebook = answer->rulebook;
	tc_buffer_free(&answer->json);
	tc_arena_free(answer->arena);
	tc_rulebook_let_go(rulebook);
}

/* --- looking ------------------------------------------------------------------------------------------------------ */

tiecoat_bite_verdict tiecoat_answer_verdict(const tiecoat_answer *answer)
{
	return answer && answer->trial ? (tiecoat_bite_verdict)answer->trial->word : TIECOAT_BITE_UNDECIDED;
}

const char *tiecoat_answer_text(const tiecoat_answer *answer)
{
	return answer && answer->trial ? tc_bite_word(answer->trial->word) : NULL;
}

size_t tiecoat_answer_cautions(const tiecoat_answer *answer)
{
	return answer && answer->trial ? answer->trial->cautions : 0;
}

const tiecoat_caution *tiecoat_answer_caution(const tiecoat_answer *answer, size_t index)
{
	return index < tiecoat_answer_cautions(answer) ? answer->caution[index] : NULL;
}

size_t tiecoat_answer_messages(const tiecoat_answer *answer)
{
	return answer ? answer->messages.count : 0;
}

const tiecoat_message *tiecoat_answer_message(const tiecoat_answer *answer, size_t index)
{
	return index < tiecoat_answer_messages(answer) ? answer->messages.at[index] : NULL;
}

tiecoat_status tiecoat_answer_json(tiecoat_answer *answer, const char **json, size_t *length)
{
	if (!json)
		return TIECOAT_MISUSE;
	*json = NULL;
	if (!answer)
		return TIECOAT_MISUSE;
	if (!answer->trial)
		return TIECOAT_BAD;
	if (!answer->written && (tc_bite_json(answer->trial, &answer->json) != TC_OK || answer->json.failed)) {
		tc_buffer_free(&answer->json);
		tc_buffer_start(&answer->json, &answer->rulebook->from);
		return TIECOAT_NO_MEMORY;
	}
	answer->written = true;
	*json = answer->json.at;
	if (length)
		*length = answer->json.length;
	return TIECOAT_OK;
}
