/* A rulebook as bytes: the one block of memory that it lies in, its pointers as they are when the block lies at its home
 * address, and a list of where the pointers are. Nobody says where pointers are: the same files are loaded twice, and what
 * differs by just the distance of the two blocks is a pointer. Any other difference is an error of this program, and so is
 * a pointer out of the block. Mapped at home the block is used where it lies, and only what is read is ever fetched; else
 * it is copied and its pointers are moved.
 *
 *   header, one page · the block · for each pointer the distance from the one before in words: 1 byte, or 0 and 4 */
#include <link.h>
#include <stdlib.h>
#include <string.h>

#include "rule/private.h"

#define MAGIC "tiecoat rulebook"
#define VERSION 3u
#define HOME UINT64_C(0x100000000000) /* 16 TiB: far from where systems put programs, heaps and stacks */
#define PAGE 4096u
#define PROBE UINT64_C(0x0102030405060708)

typedef struct header {
	char magic[16];
	uint64_t probe;  /* of the machine's order of bytes */
	uint64_t tables; /* hash of the tables that numbers in the image refer to, and of sizes */
	uint32_t version, word;
	uint64_t length; /* of the block */
	uint64_t root;   /* offset of the rulebook */
	uint64_t places; /* bytes of the list of pointers */
	uint64_t home;   /* address of the block for which its pointers hold */
	uint64_t check;  /* hash of what stands before it */
	char fill[PAGE - 80];
} header;
_Static_assert(sizeof(header) == PAGE, "the block begins on a page");

static uint64_t check_of(const header *h)
{
	return tc_text_hash((tc_text){(const char *)h, offsetof(header, check)});
}

/* --- making ---------------------------------------------------------------------------------------------------------- */

/* One of the two loads. */
typedef struct load {
	tc_rulebook *rulebook;
	const uint64_t *words;
	size_t count;
} load;

/* Where the program and its libraries lie in memory: no word may point there. */
typedef struct ranges {
	struct {
		uintptr_t from, to;
	} at[64];
	uint32_t count;
} ranges;

static int add_object(struct dl_phdr_info *info, size_t size, void *user)
{
	ranges *r = user;
	(void)size;
	for (int i = 0; i < info->dlpi_phnum; i++) {
		if (info->dlpi_phdr[i].p_type != PT_LOAD || r->count == sizeof r->at / sizeof *r->at)
			continue;
		r->at[r->count].from = info->dlpi_addr + info->dlpi_phdr[i].p_vaddr;
		r->at[r->count].to = r->at[r->count].from + info->dlpi_phdr[i].p_memsz;
		r->count++;
	}
	return 0;
}

static bool points_out(const ranges *r, uint64_t word)
{
	for (uint32_t i = 0; i < r->count; i++)
		if (word >= r->at[i].from && word < r->at[i].to)
			return true;
	return false;
}

static tc_status wrong(tc_diags *diags, const char *what, size_t offset)
{
	tc_diag_add(diags, TC_ERROR, "image", (tc_place){0}, "no image can be made of this rulebook: %s at byte %zu",
	    what, offset);
	return TC_BAD;
}

/* A word's distance in words from the pointer before it. */
static void add_place(tc_buffer *places, size_t distance)
{
	if (distance < 256) {
		tc_buffer_char(places, (char)distance);
		return;
	}
	tc_buffer_char(places, 0);
	for (unsigned shift = 0; shift < 32; shift += 8)
		tc_buffer_char(places, (char)(distance >> shift & 0xFF));
}

/* Appends the block to `image` and the pointers' places to `places`. */
static tc_status compare(const load *a, const load *b, tc_buffer *image, tc_buffer *places, tc_diags *diags)
{
	const uint64_t base_a = (uintptr_t)a->words, base_b = (uintptr_t)b->words, bytes = a->count * sizeof(uint64_t);
	ranges program = {.count = 0};
	dl_iterate_phdr(add_object, &program);
	size_t last = 0;
	for (size_t i = 0; i < a->count; i++) {
		uint64_t word = a->words[i];
		if (word != b->words[i]) {
			if (word - base_a > bytes || b->words[i] - word != base_b - base_a)
				return wrong(diags, "two loads differ", i * sizeof word);
			word = word - base_a + HOME;
			add_place(places, i + 1 - last);
			last = i + 1;
		} else if (points_out(&program, word)) {
			return wrong(diags, "a pointer into the program", i * sizeof word);
		}
		tc_buffer_add(image, (tc_text){(const char *)&word, sizeof word});
	}
	return TC_OK;
}

/* Memory that comes zeroed, so that what lies between the pieces is the same in every image. */
static void *get_zeroed(void *user, void *old, size_t size)
{
	(void)user;
	if (size == 0) {
		free(old);
		return NULL;
	}
	return old ? realloc(old, size) : calloc(1, size);
}

/* Loads with all in one block, whose beginning is the first piece that was taken from the arena: the rulebook itself. */
static tc_status load_one(const tc_rulebook_file *files, size_t count, size_t block, tc_diags *diags, load *one)
{
	static const tc_allocator zeroed = {get_zeroed, NULL};
	const tc_status status = tc_rulebook_load_into(&zeroed, block, files, count, false, diags, &one->rulebook);
	if (status != TC_OK)
		return status;
	one->words = (const uint64_t *)(const void *)one->rulebook;
	one->count = tc_arena_used(one->rulebook->owner) / sizeof(uint64_t);
	return TC_OK;
}

static tc_status write_image(const load *a, const load *b, tc_buffer *image, tc_diags *diags)
{
	header h = {.magic = MAGIC,
	    .probe = PROBE,
	    .tables = tc_tables_stamp(),
	    .version = VERSION,
	    .word = sizeof(void *),
	    .home = HOME,
	    .length = a->count * sizeof(uint64_t)};
	tc_buffer places;
	if (a->count != b->count)
		return wrong(diags, "two loads differ", 0);
	tc_buffer_start(&places, image->from);
	const size_t begin = image->length;
	tc_buffer_add(image, (tc_text){(const char *)&h, sizeof h});
	const tc_status status = compare(a, b, image, &places, diags);
	h.places = places.length;
	h.check = check_of(&h);
	if (!image->failed)
		memcpy(image->at + begin, &h, sizeof h);
	tc_buffer_add(image, (tc_text){places.at ? places.at : "", places.length});
	image->failed |= places.failed;
	tc_buffer_free(&places);
	return status != TC_OK ? status : image->failed ? TC_NO_MEMORY : TC_OK;
}

tc_status tc_rulebook_image(const tc_rulebook_file *files, size_t count, tc_diags *diags, tc_buffer *image)
{
	load measure = {0}, a = {0}, b = {0};
	tc_status status = load_one(files, count, 0, diags, &measure);
	if (status != TC_OK)
		return status;
	const size_t block = measure.count * sizeof(uint64_t) + 64;
	tc_rulebook_free(measure.rulebook);
	status = load_one(files, count, block, diags, &a);
	if (status == TC_OK)
		status = load_one(files, count, block, diags, &b);
	if (status == TC_OK) {
		tc_arena *const owner_a = a.rulebook->owner, *const owner_b = b.rulebook->owner;
		a.rulebook->owner = b.rulebook->owner = NULL;
		status = write_image(&a, &b, image, diags);
		a.rulebook->owner = owner_a;
		b.rulebook->owner = owner_b;
	}
	tc_rulebook_free(a.rulebook);
	tc_rulebook_free(b.rulebook);
	return status;
}

/* --- taking ---------------------------------------------------------------------------------------------------------- */

static bool is_ours(const header *h, size_t length)
{
	return memcmp(h->magic, MAGIC, sizeof h->magic) == 0 && h->check == check_of(h) && h->probe == PROBE &&
	       h->version == VERSION && h->word == sizeof(void *) && h->tables == tc_tables_stamp() &&
	       h->length % sizeof(uint64_t) == 0 && h->length >= sizeof(tc_rulebook) &&
	       h->length <= length - sizeof *h && h->places == length - sizeof *h - h->length &&
	       h->root % sizeof(uint64_t) == 0 && h->root <= h->length - sizeof(tc_rulebook);
}

/* Moves the pointers from home to where the words lie; false if the list does not fit the block. */
static bool relocate(uint64_t *words, size_t count, uint64_t home, const unsigned char *places, size_t length)
{
	const uint64_t base = (uintptr_t)words, bytes = count * sizeof *words;
	size_t at = 0;
	for (size_t i = 0; i < length;) {
		size_t distance = places[i++];
		if (distance == 0) {
			if (length - i < 4)
				return false;
			distance = places[i] | (size_t)places[i + 1] << 8 | (size_t)places[i + 2] << 16 |
			           (size_t)places[i + 3] << 24;
			i += 4;
		}
		if (distance > count - at || distance == 0)
			return false;
		at += distance;
		if (words[at - 1] - home > bytes)
			return false;
		words[at - 1] += base - home;
	}
	return true;
}

tc_status tc_rulebook_from_image(const tc_allocator *from, const void *image, size_t length, tc_rulebook **rulebook)
{
	header h;
	*rulebook = NULL;
	if (length < sizeof h)
		return TC_BAD;
	memcpy(&h, image, sizeof h);
	if (!is_ours(&h, length))
		return TC_BAD;
	const char *const block = (const char *)image + sizeof h;
	if ((uintptr_t)block == h.home) {
		*rulebook = (tc_rulebook *)(uintptr_t)(h.home + h.root); /* has no owner: nothing is to be freed */
		return TC_OK;
	}
	tc_arena *arena = tc_arena_new(from, h.length);
	uint64_t *words = arena ? tc_arena_copy(arena, block, h.length) : NULL;
	if (!words) {
		tc_arena_free(arena);
		return TC_NO_MEMORY;
	}
	if (!relocate(words, h.length / sizeof *words, h.home, (const unsigned char *)block + h.length, h.places)) {
		tc_arena_free(arena);
		return TC_BAD;
	}
	tc_rulebook *made = (tc_rulebook *)(void *)((char *)words + h.root);
	made->owner = arena;
	*rulebook = made;
	return TC_OK;
}

const void *tc_rulebook_image_home(const void *image, size_t length)
{
	header h;
	if (length < sizeof h)
		return NULL;
	memcpy(&h, image, sizeof h);
	return is_ours(&h, length) ? (const void *)(uintptr_t)(h.home - sizeof h) : NULL;
}
