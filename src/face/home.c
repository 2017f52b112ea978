/* The image in the program's own file, mapped once more. */
#include "api/builtin.h"
#include "face/home.h"

#include <fcntl.h>
#include <link.h>
#include <sys/mman.h>
#include <unistd.h>

/* Where in the program's own file an address lies. */
typedef struct find_offset {
	uintptr_t address;
	off_t offset;
	bool found;
} find_offset;

static int look(struct dl_phdr_info *info, size_t size, void *user)
{
	find_offset *f = user;

	(void)size;
	for (int i = 0; i < info->dlpi_phnum; i++) {
		const uintptr_t from = info->dlpi_addr + info->dlpi_phdr[i].p_vaddr;
		if (info->dlpi_phdr[i].p_type != PT_LOAD || f->address < from ||
		    f->address - from >= info->dlpi_phdr[i].p_filesz)
			continue;
		f->offset = (off_t)(info->dlpi_phdr[i].p_offset + (f->address - from));
		f->found = true;
	}
	return 1; /* the first object is the program itself */
}

#ifdef __SANITIZE_THREAD__
#define ADDRESSES_ARE_TAKEN true /* the thread sanitizer ends the program that maps to where it has its own memory */
#elif defined(__has_feature)
#if __has_feature(thread_sanitizer)
#define ADDRESSES_ARE_TAKEN true
#endif
#endif
#ifndef ADDRESSES_ARE_TAKEN
#define ADDRESSES_ARE_TAKEN false
#endif

const void *tc_image_at_home(const void *home)
{
	find_offset f = {.address = (uintptr_t)tc_builtin_image};

	dl_iterate_phdr(look, &f);
	if (ADDRESSES_ARE_TAKEN || !home || !f.found)
		return NULL;
	const int self = open("/proc/self/exe", O_RDONLY | O_CLOEXEC);
	if (self < 0)
		return NULL;
	void *at = mmap((void *)(uintptr_t)home, tc_builtin_image_size, PROT_READ, MAP_PRIVATE | MAP_FIXED_NOREPLACE,
	    self, f.offset);
	close(self);
	if (at == MAP_FAILED)
		return NULL;
	if (at == home)
		return at;
	munmap(at, tc_builtin_image_size); /* a kernel that takes the address for a wish only */
	return NULL;
}
