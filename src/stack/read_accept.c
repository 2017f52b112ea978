/* `accept`: rules overruled on purpose, each with its reason. */
#include "stack/private.h"

static void read_rule(tc_reading *r, const tc_node *node, tc_accept *accept)
{
	tc_text nearest = {NULL, 0};
	accept->name = tc_take_text(r, node, "rule", "ID");
	if (!accept->name || !r->rules)
		return;
	accept->rule = r->rules->find(r->rules->user, tc_node_text(node), &nearest);
	if (accept->rule == TC_NONE)
		tc_refuse(r, "unknown-name", node, "no rule `%s`" TC_NEAREST_F, node->text,
		    TC_NEAREST_A(nearest, "; `tiecoat rules` lists them"));
}

static void read_what(tc_reading *r, const tc_node *node, const tc_keys *keys, tc_accept *accept)
{
	const tc_node *rule = keys->at[TC_KEY_RULE], *defect = keys->at[TC_KEY_DEFECT];
	if (rule && defect)
		tc_refuse(
		    r, "twice", keys->key[TC_KEY_DEFECT], "`defect` beside `rule`; an acceptance names one of them");
	else if (rule)
		read_rule(r, rule, accept);
	else if (defect) {
		accept->defect = tc_take_word(r, defect, "defect", "defect");
		accept->name = defect->kind == TC_SCALAR ? defect->text : NULL;
	} else if (!keys->slip)
		tc_refuse(r, "missing-key", node, "the acceptance names neither a `rule` nor a `defect`");
}

static void read_accept(tc_reading *r, const tc_node *node, tc_accept *accept)
{
	tc_keys keys;
	tc_places places;
	*accept = (tc_accept){
	    .rule = TC_NONE, .defect = TC_NONE, .parts = UINT64_MAX, .place = tc_node_place(r->source, node)};
	if (!tc_keys_gather(r, node, IN_ACCEPT, "an acceptance", "- rule: ID", &keys))
		return;
	read_what(r, node, &keys, accept);
	if (keys.at[TC_KEY_BECAUSE])
		accept->because = tc_take_text(r, keys.at[TC_KEY_BECAUSE], "because", "test panel held");
	else if (!keys.slip)
		tc_refuse(r, "missing-key", node, "the acceptance gives no reason; write `because: …`");
	if (keys.at[TC_KEY_ON] && tc_take_places(r, keys.at[TC_KEY_ON], "on", &places))
		accept->parts = places.parts;
	if (keys.at[TC_KEY_STEP] && r->recipe->steps)
		accept->step = tc_take_whole(r, keys.at[TC_KEY_STEP], "step", r->recipe->steps, "the stack has");
	if (keys.at[TC_KEY_REMARK])
		tc_take_text(r, keys.at[TC_KEY_REMARK], "remark", "look again in spring");
}

void tc_read_accepts(tc_reading *r, const tc_node *node)
{
	if (node->kind != TC_LIST) {
		tc_refuse(r, "wrong-shape", node, "`accept` is %s; write a list, such as `- rule: ID`",
		    tc_node_kind_name(node));
		return;
	}
	tc_accept *accept = TC_ARRAY(r->arena, node->count, tc_accept);
	if (!accept)
		return;
	for (uint32_t i = 0; i < node->count; i++)
		read_accept(r, node->items[i], &accept[i]);
	r->recipe->accepts = node->count;
	r->recipe->accept = accept;
}
