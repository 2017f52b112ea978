/* What something that comes onto a surface meets: each exposed material, and through a layer what lies under it. */
#include "stack/bench.h"

#define DEEPEST 4 /* layers that a solvent is followed through */

typedef struct meeting {
	const tc_bench *bench;
	double now;
	uint32_t direct, count;
	tc_contact met[2 * TC_EXPOSED_MAX];
} meeting;

/* A film that something may pass: a coat, an old finish, a decal's carrier; not a filler or a glue. */
static bool lets_through(const tc_layer *layer)
{
	return layer && (!layer->spot || layer->step->written->verb == TC_VERB_DECAL);
}

/* Known to be too thin to be closed. */
static bool open_film(const tc_layer *layer, double now)
{
	const tc_value closed = tc_layer_closed(layer, now);
	return tc_known(closed) && closed.truth == TC_FALSE;
}

/* Meets a covered material through `film`; of several ways the thinnest counts. False: a thinner one was known. */
static bool meet_through(meeting *m, const tc_exposed *under, double film, const tc_layer *between)
{
	for (uint32_t i = 0; i < m->count; i++) {
		tc_contact *c = &m->met[i];
		if (c->under->layer != under->layer)
			continue;
		if (c->direct || !(isnan(c->film_between) ? !isnan(film) : film < c->film_between))
			return false;
		c->film_between = film;
		c->between = between;
		return true;
	}
	if (m->count < 2 * TC_EXPOSED_MAX)
		m->met[m->count++] =
		    (tc_contact){.under = under, .direct = false, .film_between = film, .between = between};
	return true;
}

/* Goes from `layer` to what it lies on. `film`: what lies above it, up to `top`. What is exposed is met directly, and
 * has a way down of its own. */
static void go_through(meeting *m, const tc_layer *top, const tc_layer *layer, double film, int depth)
{
	const tc_laid *laid = tc_laid_of(m->bench, layer);
	const tc_value own = tc_layer_film(layer, m->now);
	film += tc_known(own) ? own.number : NAN;
	const bool further = depth < DEEPEST && open_film(layer, m->now);
	for (uint32_t i = 0; i < laid->on.count; i++) {
		const tc_layer *below = laid->on.at[i].layer;
		const tc_exposed *under = below ? tc_laid_of(m->bench, below)->last : m->bench->ground;
		if (under && meet_through(m, under, film, top) && further && lets_through(below) &&
		    open_film(below, m->now))
			go_through(m, top, below, film, depth + 1);
	}
}

uint32_t tc_contacts_of(tc_building *b, const tc_bench *bench, tc_surface surface, const tc_layer *coat, double now,
    const tc_contact **contacts)
{
	meeting m;
	m.bench = bench;
	m.now = now;
	m.count = 0;
	for (uint32_t i = 0; i < surface.count && i < TC_EXPOSED_MAX; i++)
		m.met[m.count++] = (tc_contact){.under = &surface.at[i], .direct = true};
	for (uint32_t i = 0; i < surface.count; i++)
		if (lets_through(surface.at[i].layer))
			go_through(&m, surface.at[i].layer, surface.at[i].layer, 0, 1);
	tc_contact *kept = TC_ARRAY(b->arena, m.count, tc_contact);
	if (!kept)
		return 0;
	for (uint32_t i = 0; i < m.count; i++) {
		kept[i] = m.met[i];
		kept[i].coat = coat;
	}
	*contacts = kept;
	return m.count;
}
