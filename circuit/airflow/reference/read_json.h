/* Reads a JSON text into a tree. Enough for exports: numbers, strings without escapes beyond \" and \\, no error recovery. */
#ifndef READ_JSON_H
#define READ_JSON_H

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct json {
	char kind; /* 'o' object, 'a' array, 's' string, 'n' number, 't', 'f', '0' */
	double number;
	char *text;
	int count;
	char **key;
	struct json **item;
} json;

static void json_die(const char *why) {
	fprintf(stderr, "cvode: the export can't be read: %s\n", why);
	exit(1);
}

static const char *json_skip(const char *s) {
	while (isspace((unsigned char)*s)) s++;
	return s;
}

static char *json_string(const char **at) {
	const char *s = *at + 1;
	char *out = malloc(strlen(s) + 1), *o = out;
	while (*s && *s != '"') {
		if (*s == '\\' && s[1] == 'u') json_die("an escaped letter");
		if (*s == '\\') s++;
		*o++ = *s++;
	}
	if (*s != '"') json_die("a string without an end");
	*o = 0;
	*at = s + 1;
	return out;
}

static json *json_value(const char **at) {
	json *v = calloc(1, sizeof *v);
	const char *s = json_skip(*at);
	if (*s == '{' || *s == '[') {
		char end = *s == '{' ? '}' : ']';
		int room = 0;
		v->kind = *s == '{' ? 'o' : 'a';
		s = json_skip(s + 1);
		while (*s != end) {
			if (v->count == room) {
				room = room ? 2 * room : 8;
				v->key = realloc(v->key, room * sizeof *v->key);
				v->item = realloc(v->item, room * sizeof *v->item);
			}
			v->key[v->count] = NULL;
			if (v->kind == 'o') {
				if (*s != '"') json_die("a field without a name");
				v->key[v->count] = json_string(&s);
				s = json_skip(s);
				if (*s++ != ':') json_die("a field without a value");
			}
			v->item[v->count++] = json_value(&s);
			s = json_skip(s);
			if (*s == ',') s = json_skip(s + 1);
			else if (*s != end) json_die("a list without an end");
		}
		s++;
	} else if (*s == '"') {
		v->kind = 's';
		v->text = json_string(&s);
	} else if (strncmp(s, "true", 4) == 0) {
		v->kind = 't', v->number = 1, s += 4;
	} else if (strncmp(s, "false", 5) == 0) {
		v->kind = 'f', s += 5;
	} else if (strncmp(s, "null", 4) == 0) {
		v->kind = '0', s += 4;
	} else {
		char *end;
		v->kind = 'n';
		v->number = strtod(s, &end);
		if (end == s) json_die("what is no value");
		s = end;
	}
	*at = s;
	return v;
}

static json *json_read(const char *path) {
	FILE *f = fopen(path, "rb");
	if (!f) json_die("no such file");
	fseek(f, 0, SEEK_END);
	long size = ftell(f);
	rewind(f);
	char *text = malloc(size + 1);
	if (fread(text, 1, size, f) != (size_t)size) json_die("it ends too soon");
	text[size] = 0;
	fclose(f);
	const char *at = text;
	json *v = json_value(&at);
	free(text);
	return v;
}

/* The field of an object; NULL if it has none of that name. */
static json *json_find(const json *v, const char *name) {
	for (int i = 0; i < v->count; i++)
		if (strcmp(v->key[i], name) == 0) return v->item[i];
	return NULL;
}

static json *json_get(const json *v, const char *name) {
	json *f = json_find(v, name);
	if (!f) json_die(name);
	return f;
}

static double json_number(const json *v, const char *name) { return json_get(v, name)->number; }
static const char *json_text(const json *v, const char *name) { return json_get(v, name)->text; }

#endif
