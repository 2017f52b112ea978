/* Replays files, and all files of folders, through a fuzz target, without the fuzzer. */
#include <dirent.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#define PATH_LENGTH 4096
#define FILE_LENGTH (16L << 20)

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static int replay_file(const char *path)
{
	FILE *file = fopen(path, "rb");
	uint8_t *data = malloc(FILE_LENGTH);
	const size_t size = file && data ? fread(data, 1, FILE_LENGTH, file) : 0;
	const int bad = !file || !data || ferror(file);
	if (bad) {
		fprintf(stderr, "%s: cannot be read\n", path);
	} else {
		/* A copy of just that length, so that the address sanitizer sees who reads beyond it. */
		uint8_t *exact = malloc(size ? size : 1);
		if (exact)
			LLVMFuzzerTestOneInput(memcpy(exact, data, size), size);
		free(exact);
	}
	if (file)
		fclose(file);
	free(data);
	return bad;
}

static int replay(const char *path, unsigned *count)
{
	struct stat info;
	if (stat(path, &info) != 0 || !S_ISDIR(info.st_mode)) {
		++*count;
		return replay_file(path);
	}
	DIR *folder = opendir(path);
	if (!folder)
		return 1;
	int bad = 0;
	for (struct dirent *entry; (entry = readdir(folder)) != NULL;) {
		char inner[PATH_LENGTH];
		if (entry->d_name[0] == '.')
			continue;
		if (snprintf(inner, sizeof inner, "%s/%s", path, entry->d_name) < (int)sizeof inner)
			bad |= replay(inner, count);
	}
	closedir(folder);
	return bad;
}

int main(int argc, char **argv)
{
	unsigned count = 0;
	int bad = 0;
	for (int i = 1; i < argc; i++)
		bad |= replay(argv[i], &count);
	printf("summary: %u inputs replayed\n", count);
	return bad || count == 0;
}
