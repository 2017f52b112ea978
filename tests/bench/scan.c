/* A bare libyaml event scan of files: the floor under any reader. Prints nothing but errors. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <yaml.h>

static int scan(const char *name, char **buffer, size_t *room)
{
	FILE *in = fopen(name, "rb");
	size_t length = 0, n;

	if (!in)
		return 1;
	do {
		if (*room - length < 4096) {
			*room = *room ? *room * 2 : 65536;
			*buffer = realloc(*buffer, *room);
			if (!*buffer)
				return 1;
		}
		n = fread(*buffer + length, 1, *room - length, in);
		length += n;
	} while (n > 0);
	fclose(in);

	yaml_parser_t parser;
	yaml_event_t event;
	int end = 0;
	if (!yaml_parser_initialize(&parser))
		return 1;
	yaml_parser_set_input_string(&parser, (const unsigned char *)*buffer, length);
	while (!end) {
		if (!yaml_parser_parse(&parser, &event))
			return 1;
		end = event.type == YAML_STREAM_END_EVENT;
		yaml_event_delete(&event);
	}
	yaml_parser_delete(&parser);
	return 0;
}

int main(int argc, char **argv)
{
	char *buffer = NULL, line[4096];
	size_t room = 0;
	FILE *list = argc > 1 ? fopen(argv[1], "r") : stdin;

	if (!list)
		return 2;
	while (fgets(line, sizeof line, list)) {
		line[strcspn(line, "\n")] = 0;
		if (scan(line, &buffer, &room)) {
			fprintf(stderr, "%s: could not be scanned\n", line);
			return 1;
		}
	}
	free(buffer);
	return 0;
}
