/* Vocabularies: those that the model fixes, and those of section `words`. */
#include <string.h>

#include "library/private.h"

typedef struct fixed_list {
	const char *id;
	const char *words[TC_VERB_COUNT + 1];
} fixed_list;

/* In the order of the enumerations of library.h. */
static const fixed_list fixed[] = {
    {"pass", {[TC_PASS_MIST] = "mist", [TC_PASS_LIGHT] = "light", [TC_PASS_MEDIUM] = "medium", [TC_PASS_WET] = "wet"}},
    {"cure", {[TC_CURE_EVAPORATION] = "evaporation",
                 [TC_CURE_COALESCENCE] = "coalescence",
                 [TC_CURE_OXIDATION] = "oxidation",
                 [TC_CURE_TWO_PART] = "two-part",
                 [TC_CURE_LIGHT] = "light",
                 [TC_CURE_MOISTURE] = "moisture"}},
    {"structure", {[TC_AMORPHOUS] = "amorphous",
                      [TC_CROSSLINKED] = "crosslinked",
                      [TC_SEMICRYSTALLINE] = "semicrystalline",
                      [TC_INERT] = "inert"}},
    {"breath", {[TC_BREATH_ISOCYANATE] = "isocyanate", [TC_BREATH_MIST] = "mist", [TC_BREATH_DUST] = "dust"}},
    {"verb", {[TC_VERB_WASH] = "wash",
                 [TC_VERB_DEGREASE] = "degrease",
                 [TC_VERB_CLEAN] = "clean",
                 [TC_VERB_SAND] = "sand",
                 [TC_VERB_GLUE] = "glue",
                 [TC_VERB_FILL] = "fill",
                 [TC_VERB_CURE] = "cure",
                 [TC_VERB_SCRIBE] = "scribe",
                 [TC_VERB_COAT] = "coat",
                 [TC_VERB_WAIT] = "wait",
                 [TC_VERB_DECAL] = "decal",
                 [TC_VERB_MASK] = "mask",
                 [TC_VERB_UNMASK] = "unmask",
                 [TC_VERB_POLISH] = "polish",
                 [TC_VERB_DUST] = "dust",
                 [TC_VERB_STRIP] = "strip",
                 [TC_VERB_WIPE] = "wipe",
                 [TC_VERB_FIT] = "fit",
                 [TC_VERB_MIX] = "mix",
                 [TC_VERB_TEST] = "test",
                 [TC_VERB_DO] = "do"}},
};
#define FIXED (sizeof fixed / sizeof *fixed)

/* Room for `count` words in a list; false: out of memory. */
static bool make_room(tc_builder *b, tc_word_list *list, uint32_t count, const char ***words, const char ***about)
{
	*words = TC_ARRAY(b->arena, count, const char *);
	*about = TC_ARRAY(b->arena, count, const char *);
	list->words = *words;
	list->about = *about;
	return *words && *about;
}

/* What the rulebook says about the words of a fixed list; it cannot add any. */
static void read_about_fixed(tc_builder *b, const tc_item *item, const tc_word_list *list, const char **about)
{
	const tc_node *map = item->node;
	for (uint32_t i = 0; i < map->count; i++) {
		const tc_node *key = tc_map_key(map, i);
		const tc_reader reader = tc_lib_reader(b, tc_item_source(b->collection, item, key->text));
		const uint32_t word = tc_word_find(list, tc_node_text(key));
		if (word != TC_NONE) {
			const char *line = tc_lib_read_text(&reader, tc_map_value(map, i), key->text);
			about[word] = line ? line : about[word];
			continue;
		}
		tc_nearest nearest = TC_NEAREST(tc_node_text(key));
		for (uint32_t j = 0; j < list->count; j++)
			tc_nearest_offer(&nearest, tc_text_of(list->words[j]));
		tc_lib_wrong(&reader, "fixed-words", key,
		    "the words of `%s` are fixed by the program and `%s` is none of them" TC_NEAR_F, list->id,
		    key->text, TC_NEAR(nearest, ""));
	}
}

static bool is_map_of_words(tc_builder *b, const tc_item *item)
{
	if (item->node->kind == TC_MAP)
		return true;
	const tc_reader reader = tc_lib_reader(b, item->source);
	tc_lib_wrong(&reader, "wrong-shape", item->node,
	    "`%s` is a mapping of words, each with a line about it; this is %s", item->id,
	    tc_node_kind_name(item->node));
	return false;
}

static void build_fixed(tc_builder *b, const fixed_list *from, tc_word_list *list)
{
	uint32_t count = 0;
	while (from->words[count])
		count++;
	const char **words, **about;
	list->id = tc_lib_text(b, from->id);
	list->fixed = true;
	if (!list->id || !make_room(b, list, count, &words, &about))
		return;
	for (uint32_t i = 0; i < count; i++) {
		words[i] = tc_lib_text(b, from->words[i]);
		about[i] = tc_lib_text(b, "");
		if (!words[i] || !about[i])
			return;
	}
	list->count = count;
	const char *address = tc_arena_print(b->scratch, "words/%s", from->id);
	const tc_item *item = address ? tc_collection_find(b->collection, tc_text_of(address)) : NULL;
	if (item && is_map_of_words(b, item))
		read_about_fixed(b, item, list, about);
}

static bool is_word(tc_text word)
{
	for (size_t i = 0; i < word.length; i++) {
		const char c = word.at[i];
		if (!(c >= 'a' && c <= 'z') && !(c >= '0' && c <= '9') && (c != '-' || i == 0))
			return false;
	}
	return word.length > 0 && word.length <= TC_SYMBOL_TEXT_MAX;
}

static void build_list(tc_builder *b, const tc_item *item, tc_word_list *list)
{
	const tc_node *map = item->node;
	const tc_reader own = tc_lib_reader(b, item->source);
	list->id = tc_lib_text(b, item->id);
	if (!is_map_of_words(b, item))
		return;
	if (map->count > TC_SYMBOLS_MAX)
		tc_lib_wrong(&own, "bound", map, "`%s` has %u words; a vocabulary has at most %u", item->id, map->count,
		    TC_SYMBOLS_MAX);
	const uint32_t count = map->count < TC_SYMBOLS_MAX ? map->count : TC_SYMBOLS_MAX;
	const char **words, **about;
	if (!make_room(b, list, count, &words, &about))
		return;
	for (uint32_t i = 0; i < count; i++) {
		const tc_node *key = tc_map_key(map, i);
		const tc_reader reader = tc_lib_reader(b, tc_item_source(b->collection, item, key->text));
		if (!is_word(tc_node_text(key)))
			tc_lib_wrong(&reader, "bad-id", key, "`%s` is no word; a word is small letters, digits and `-`",
			    key->text);
		words[i] = tc_lib_text(b, key->text);
		const char *line = tc_lib_read_text(&reader, tc_map_value(map, i), key->text);
		about[i] = line ? line : tc_lib_text(b, "");
		if (!words[i] || !about[i])
			return;
		list->count = i + 1;
	}
}

static bool is_fixed(const char *id)
{
	for (size_t i = 0; i < FIXED; i++)
		if (strcmp(fixed[i].id, id) == 0)
			return true;
	return false;
}

void tc_lib_build_words(tc_builder *b)
{
	tc_library *l = b->library;
	const size_t count = tc_collection_count(b->collection, TC_SECTION_WORDS);
	l->words = TC_ARRAY(b->arena, FIXED + count, tc_word_list);
	if (!l->words)
		return;
	for (size_t i = 0; i < FIXED; i++)
		build_fixed(b, &fixed[i], &l->words[l->words_count++]);
	for (size_t i = 0; i < count; i++) {
		const tc_item *item = tc_collection_at(b->collection, TC_SECTION_WORDS, i);
		if (!is_fixed(item->id))
			build_list(b, item, &l->words[l->words_count++]);
	}
	for (uint32_t i = 0; i < l->words_count; i++)
		if (!l->words[i].id || !tc_map_put(&l->word_ids, b->arena, tc_text_of(l->words[i].id), i, NULL))
			return;
}

const tc_word_list *tc_library_words(const tc_library *library, tc_text vocabulary)
{
	const uint32_t index = tc_map_find(&library->word_ids, vocabulary);
	return index == TC_MAP_NONE ? NULL : &library->words[index];
}

uint32_t tc_word_find(const tc_word_list *list, tc_text word)
{
	for (uint32_t i = 0; i < list->count; i++)
		if (tc_text_is(word, list->words[i]))
			return i;
	return TC_NONE;
}
