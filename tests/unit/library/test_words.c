/* Vocabularies, sources, cautions, defects, defaults, unclear words. */
#include "book.h"

/* library.h: the fixed vocabularies have the same numbers in every library. */
static void fixed_vocabularies(void **state)
{
	(void)state;
	book b = open_good("words:\n  pass: {wet: heavy, mist: a breath}\n");
	static const struct {
		const char *list, *word;
		uint32_t number;
	} words[] = {
	    {"pass", "mist", TC_PASS_MIST},
	    {"pass", "wet", TC_PASS_WET},
	    {"cure", "evaporation", TC_CURE_EVAPORATION},
	    {"cure", "coalescence", TC_CURE_COALESCENCE},
	    {"cure", "oxidation", TC_CURE_OXIDATION},
	    {"cure", "two-part", TC_CURE_TWO_PART},
	    {"cure", "light", TC_CURE_LIGHT},
	    {"cure", "moisture", TC_CURE_MOISTURE},
	    {"structure", "amorphous", TC_AMORPHOUS},
	    {"structure", "inert", TC_INERT},
	    {"verb", "wash", TC_VERB_WASH},
	    {"verb", "coat", TC_VERB_COAT},
	    {"verb", "strip", TC_VERB_STRIP},
	    {"verb", "do", TC_VERB_DO},
	};
	for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
		const tc_word_list *list = tc_library_words(b.library, tc_text_of(words[i].list));
		assert_non_null(list);
		assert_true(list->fixed);
		assert_int_equal(tc_word_find(list, tc_text_of(words[i].word)), words[i].number);
		assert_string_equal(list->words[words[i].number], words[i].word);
	}
	assert_int_equal(tc_library_words(b.library, TC_TEXT("verb"))->count, TC_VERB_COUNT);
	assert_int_equal(tc_library_words(b.library, TC_TEXT("pass"))->count, TC_PASS_COUNT);
	const tc_word_list *pass = tc_library_words(b.library, TC_TEXT("pass"));
	assert_string_equal(pass->about[TC_PASS_WET], "heavy");
	assert_string_equal(pass->about[TC_PASS_LIGHT], "");
	assert_int_equal(tc_word_find(pass, TC_TEXT("Wet")), TC_NONE);
	close_book(&b);
	says("words:\n  cure: {magic: x, oxidaton: y}\n  verb: [wash]\n",
	    "a.yaml:2:10: error: the words of `cure` are fixed by the program and `magic` is none of them "
	    "[fixed-words]\n"
	    "a.yaml:2:20: error: the words of `cure` are fixed by the program and `oxidaton` is none of them; "
	    "`oxidation` is near [fixed-words]\n"
	    "a.yaml:3:9: error: `verb` is a mapping of words, each with a line about it; this is a list "
	    "[wrong-shape]\n");
}

static void vocabularies_of_the_rulebook(void **state)
{
	(void)state;
	book b = open_good("words:\n  hue: {red: warm, blue-grey: cold, 9: odd}\n");
	const tc_word_list *hue = tc_library_words(b.library, TC_TEXT("hue"));
	assert_false(hue->fixed);
	assert_int_equal(hue->count, 3);
	assert_string_equal(hue->words[1], "blue-grey"); /* in the order in which they are written */
	assert_string_equal(hue->about[0], "warm");
	assert_null(tc_library_words(b.library, TC_TEXT("shape")));
	close_book(&b);
	says("words:\n  hue: {Red: x, a_b: y, blue: }\n",
	    "a.yaml:2:9: error: `Red` is no word; a word is small letters, digits and `-` [bad-id]\n"
	    "a.yaml:2:17: error: `a_b` is no word; a word is small letters, digits and `-` [bad-id]\n"
	    "a.yaml:2:31: error: `blue` is empty; give a text, or leave the key out [wrong-shape]\n");
}

static char *many_words(unsigned count)
{
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	tc_buffer_puts(&out, "words:\n  hue:\n");
	for (unsigned i = 0; i < count; i++)
		tc_buffer_print(&out, "    w%02u: x\n", i);
	return out.at;
}

/* base/limits.h: TC_SYMBOLS_MAX is 64. */
static void number_of_words(void **state)
{
	(void)state;
	char *at = many_words(64), *past = many_words(65);
	says(at, "");
	says(past, "a.yaml:3:5: error: `hue` has 65 words; a vocabulary has at most 64 [bound]\n");
	free(at);
	free(past);
}

static void sources(void **state)
{
	(void)state;
	book b = open_good("");
	assert_int_equal(tc_library_sources(b.library), 2);
	const tc_source_entry *good = tc_library_source(b.library, 0), *old = tc_library_source(b.library, 1);
	assert_string_equal(good->id, "good-book");
	assert_string_equal(good->author, "A. Writer");
	assert_string_equal(good->title, "A good book");
	assert_string_equal(good->year, "2001");
	assert_true(good->read);
	assert_null(old->author);
	assert_false(old->read);
	assert_int_equal(old->place.line, 3);
	close_book(&b);
	says("sources:\n  a: {titel: x, read: yes}\n  b: {title: x}\n  c: {title: x, read: perhaps}\n  d: text\n",
	    "a.yaml:2:3: error: source `a` has no `title` [missing-key]\n"
	    "a.yaml:2:7: error: no key `titel` in a source; `title` is near [unknown-key]\n"
	    "a.yaml:3:3: error: source `b` does not say whether it was read; write `read: yes`, or `read: no` if it is "
	    "remembered [missing-key]\n"
	    "a.yaml:4:23: error: `read` is `perhaps`; write `yes` or `no` [not-a-truth]\n"
	    "a.yaml:5:6: error: `d` is a mapping of the keys of a source; this is a text [wrong-shape]\n");
}

static void cautions(void **state)
{
	(void)state;
	book b = open_good(
	    "kinds: {k: {from: practice}}\n"
	    "cautions:\n"
	    "  a: {says: last, from: practice}\n"
	    "  b: {says: second, rank: 10, kinds: [k], codes: [H334, H225], verbs: [coat, sand], from: practice}\n"
	    "  c: {says: first, rank: 0, from: practice}\n");
	assert_int_equal(tc_library_cautions(b.library), 3);
	assert_string_equal(tc_library_caution(b.library, 0)->says, "first");
	assert_string_equal(tc_library_caution(b.library, 2)->says, "last");
	const tc_caution *c = tc_library_caution(b.library, 1);
	assert_int_equal(c->rank, 10);
	assert_int_equal(c->kinds[0], entry_of(&b, "k")->index);
	assert_int_equal(c->kinds[1], TC_NONE);
	assert_string_equal(c->codes[0], "H225");
	assert_string_equal(c->codes[1], "H334");
	assert_null(c->codes[2]);
	assert_true(c->verbs == ((uint64_t)1 << TC_VERB_COAT | (uint64_t)1 << TC_VERB_SAND));
	assert_int_equal(c->basis->source, TC_NONE);
	const tc_caution *any = tc_library_caution(b.library, 2);
	assert_int_equal(any->rank, 100);
	assert_int_equal(any->kinds[0], TC_NONE);
	assert_null(any->codes[0]);
	assert_true(any->verbs == 0);
	close_book(&b);
	says("cautions:\n"
	     "  a: {from: practice}\n"
	     "  b: {says: x}\n"
	     "  c: {says: x, from: practice, kinds: [zzz], codes: [X1], verbs: [cote], rank: 1.5}\n"
	     "  d: {says: x, from: practice, rank: 10000, when: y}\n"
	     "  e: {says: x, from: practice, kinds: {}, codes: {}, verbs: none}\n"
	     "  f: {says: x, from: practice, kinds: [[]]}\n"
	     "  g: careful\n",
	    "a.yaml:2:3: error: caution `a` has no `says` [missing-key]\n"
	    "a.yaml:3:3: error: `b` does not say where it comes from; write `from: practice` or `from: {source: ID, "
	    "at: …}` [no-basis]\n"
	    "a.yaml:4:40: error: `zzz` of `kinds` is nothing that the library has [unknown-name]\n"
	    "a.yaml:4:54: error: `X1` is no hazard code; write H and three digits, such as H225, or EUH and three "
	    "digits, such as EUH066 [hazard-code]\n"
	    "a.yaml:4:67: error: `cote` of `verbs` is no word of `verb`; its words are wash, degrease, clean, sand, "
	    "glue, fill, cure, scribe, coat, wait, decal, mask, unmask, polish, dust, strip, wipe, fit, mix, test, do "
	    "[unknown-word]\n"
	    "a.yaml:4:80: error: `rank` is a whole number from 0 to 9999 [out-of-range]\n"
	    "a.yaml:5:38: error: `rank` is a whole number from 0 to 9999 [out-of-range]\n"
	    "a.yaml:5:45: error: no key `when` in a caution; docs/rulebook.md lists the keys [unknown-key]\n"
	    "a.yaml:6:39: error: `kinds` is a list, or a single word; this is a mapping [wrong-shape]\n"
	    "a.yaml:6:50: error: `codes` is a list, or a single word; this is a mapping [wrong-shape]\n"
	    "a.yaml:7:40: error: `kinds` is a list of words; here stands a list [wrong-shape]\n"
	    "a.yaml:8:6: error: `g` is a mapping of the keys of a caution; this is a text [wrong-shape]\n");
}

static void defects(void **state)
{
	(void)state;
	book b = open_good("defects:\n  lifting: {about: an old coat swells, from: practice}\n  fisheye: {about: "
	                   "craters, from: practice}\n");
	const char *about;
	assert_int_equal(tc_library_defects(b.library), 2);
	assert_string_equal(tc_library_defect(b.library, 0, NULL), "fisheye");
	assert_string_equal(tc_library_defect(b.library, 1, &about), "lifting");
	assert_string_equal(about, "an old coat swells");
	assert_int_equal(tc_library_defect_find(b.library, TC_TEXT("lifting")), 1);
	assert_int_equal(tc_library_defect_find(b.library, TC_TEXT("lift")), TC_NONE);
	close_book(&b);
	says("defects:\n  a: {from: practice}\n  b: {about: x}\n  c: text\n",
	    "a.yaml:2:3: error: defect `a` has no `about` [missing-key]\n"
	    "a.yaml:3:3: error: `b` does not say where it comes from; write `from: practice` or `from: {source: ID, "
	    "at: …}` [no-basis]\n"
	    "a.yaml:4:6: error: `c` is a mapping of the keys of a defect; this is a text [wrong-shape]\n");
}

static void defaults(void **state)
{
	(void)state;
	book b = open_good("");
	is_number(tc_library_default(b.library, TC_D_TEMPERATURE)->value, TC_T_TEMPERATURE, 294.15);
	is_number(tc_library_default(b.library, TC_D_HUMIDITY)->value, TC_T_SHARE, 0.5);
	is_number(tc_library_default(b.library, TC_D_EXTRACTION)->value, TC_T_NUMBER, 100 / 3600.0);
	assert_int_equal(tc_library_default(b.library, TC_D_CUP_LOSS)->basis->source, TC_NONE);
	close_book(&b);
}

/* Every row must have a figure; where one is broken there is still something to look at, and it is unknown. */
static void defaults_that_are_missing_or_broken(void **state)
{
	(void)state;
	const char *rest = strstr(BENCH, "  humidity:");
	tc_buffer text;
	tc_buffer_start(&text, NULL);
	tc_buffer_puts(&text, "defaults:\n  temprature: {is: 21 °C, from: practice}\n");
	tc_buffer_puts(&text, rest);
	const tc_rulebook_file one = file_of("a.yaml", text.at, 0);
	book b = open_files(&one, 1);
	assert_string_equal(b.said,
	    "a.yaml: error: section `defaults` does not say `temperature` (air and part in the workshop) "
	    "[missing-key]\n"
	    "a.yaml:2:3: error: no default `temprature`; `temperature` is near [unknown-key]\n");
	assert_int_equal(tc_library_default(b.library, TC_D_TEMPERATURE)->value.state, TC_UNKNOWN);
	assert_int_equal(tc_library_default(b.library, TC_D_TEMPERATURE)->value.type, TC_T_TEMPERATURE);
	close_book(&b);
	text.length = 0;
	tc_buffer_puts(&text, "defaults:\n  temperature: 21 °C\n");
	tc_buffer_puts(&text, rest);
	expect(open_files((tc_rulebook_file[]){file_of("a.yaml", text.at, 0)}, 1),
	    "a.yaml:2:3: error: `temperature` does not say where it comes from; write `{is: …, from: practice}` or "
	    "`from: {source: ID, at: …}` [no-basis]\n");
	text.length = 0;
	tc_buffer_puts(&text, "defaults:\n  temperature: {is: none, from: practice}\n");
	tc_buffer_puts(&text, rest);
	expect(open_files((tc_rulebook_file[]){file_of("a.yaml", text.at, 0)}, 1),
	    "a.yaml:2:16: error: default `temperature` must have a figure [missing-key]\n");
	text.length = 0;
	tc_buffer_puts(&text, "defaults:\n  temperature: {from: practice}\n");
	tc_buffer_puts(&text, rest);
	expect(open_files((tc_rulebook_file[]){file_of("a.yaml", text.at, 0)}, 1),
	    "a.yaml:2:16: error: default `temperature` has no `is`; write `{is: VALUE, from: …}` [missing-key]\n");
	tc_buffer_free(&text);
}

static void unclear_words(void **state)
{
	(void)state;
	book b = open_good("unclear:\n  acrylic: what cleans it up?\n  clear coat: which?\n");
	assert_int_equal(tc_library_unclear(b.library), 2);
	assert_string_equal(tc_library_unclear_at(b.library, 0)->word, "acrylic");
	assert_string_equal(tc_library_unclear_at(b.library, 0)->question, "what cleans it up?");
	close_book(&b);
	says("unclear:\n  clear coat: which?\n  Clear-Coat: which?\n  other: [x]\n  '--': what?\n",
	    "a.yaml:2:3: error: `clear coat` and `Clear-Coat` read alike; keep one of them [same-name]\n"
	    "a.yaml:4:10: error: `other` is a text; this is a list [wrong-shape]\n"
	    "a.yaml:5:3: error: `--` is no word [bad-id]\n");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(fixed_vocabularies),
	    cmocka_unit_test(vocabularies_of_the_rulebook),
	    cmocka_unit_test(number_of_words),
	    cmocka_unit_test(sources),
	    cmocka_unit_test(cautions),
	    cmocka_unit_test(defects),
	    cmocka_unit_test(defaults),
	    cmocka_unit_test(defaults_that_are_missing_or_broken),
	    cmocka_unit_test(unclear_words),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
