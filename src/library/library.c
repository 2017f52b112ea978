/* Building: each part after those that it refers to. */
#include "library/private.h"

static void build(tc_builder *b)
{
	static void (*const parts[])(tc_builder *) = {
	    tc_lib_build_words,
	    tc_lib_build_sources,
	    tc_lib_build_tree,
	    tc_lib_build_names,
	    tc_lib_build_cautions,
	    tc_lib_build_entries,
	    tc_lib_build_blends,
	    tc_lib_build_defects,
	    tc_lib_build_defaults,
	};
	for (size_t i = 0;
	     i < sizeof parts / sizeof *parts && !tc_arena_failed(b->arena) && !tc_arena_failed(b->scratch); i++)
		parts[i](b);
}

tc_status tc_library_build(
    tc_arena *arena, const tc_collection *collection, tc_diags *diags, const tc_library **library)
{
	*library = NULL;
	const size_t errors = tc_diags_errors(diags);
	tc_arena *scratch = tc_arena_new(tc_arena_allocator(arena), 0);
	if (!scratch)
		return TC_NO_MEMORY;
	tc_builder b = {.arena = arena,
	    .scratch = scratch,
	    .collection = collection,
	    .diags = diags,
	    .library = TC_NEW(arena, tc_library)};
	if (b.library)
		build(&b);
	const bool failed = tc_arena_failed(arena) || tc_arena_failed(scratch);
	tc_arena_free(scratch);
	if (failed)
		return TC_NO_MEMORY;
	*library = b.library;
	return tc_diags_errors(diags) > errors ? TC_BAD : TC_OK;
}
