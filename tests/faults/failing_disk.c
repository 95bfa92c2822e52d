/* A shim between a program and the disk: fails or cuts the power at the nth write, sync or rename.

   Loaded with LD_PRELOAD. Only files with "coach.db" in their names are watched. At a cut all that
   was written since the last sync of a file is undone, as where nothing of it had reached the disk.
*/
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/types.h>
#include <unistd.h>
#include <stdio.h>

enum { FAIL = 1, FULL = 2, CUT = 3, MOST = 4096 };
static long seen, at = -1;
static int mode;
struct undone { int fd; off_t where, size; size_t length; char *data; };
static struct undone log_[MOST];
static int logged;

long disk_calls(void) { return seen; }
void disk_arm(long nth, int how) { seen = 0; at = nth; mode = how; }

static int watched(int fd) {
    char link[64], path[4096];
    snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
    ssize_t n = readlink(link, path, sizeof path - 1);
    if (n < 0) return 0;
    path[n] = 0;
    return strstr(path, "coach.db") && !strstr(path, "-shm");
}

static ssize_t real_pwrite(int fd, const void *b, size_t n, off_t o) {
    static ssize_t (*f)(int, const void *, size_t, off_t);
    if (!f) f = dlsym(RTLD_NEXT, "pwrite64");
    return f(fd, b, n, o);
}

static void cut(void) {
    while (logged--) {
        struct undone *u = &log_[logged];
        if (u->length) real_pwrite(u->fd, u->data, u->length, u->where);
        if (ftruncate64(u->fd, u->size)) {}
    }
    _exit(77);
}

/* Whether this call is the one; 0 to go on, else the error to give. */
static int due(void) {
    long now = seen++;
    if (at < 0 || now < at) return 0;
    if (mode == CUT) cut();
    if (mode == FULL) return now < at + 6 ? ENOSPC : 0;
    return now == at ? EIO : 0;
}

static void remember(int fd, size_t n, off_t o) {
    struct stat s;
    if (mode != CUT || logged == MOST || fstat(fd, &s)) return;
    struct undone *u = &log_[logged++];
    u->fd = fd; u->where = o; u->size = s.st_size; u->data = malloc(n + 1);
    ssize_t had = pread(fd, u->data, n, o);
    u->length = had > 0 ? (size_t)had : 0;
}

ssize_t pwrite64(int fd, const void *b, size_t n, off_t o) {
    if (watched(fd)) {
        int error = due();
        if (error) { errno = error; return -1; }
        remember(fd, n, o);
    }
    return real_pwrite(fd, b, n, o);
}
ssize_t pwrite(int fd, const void *b, size_t n, off_t o) { return pwrite64(fd, b, n, o); }

static int synced(int fd, const char *name) {
    int (*f)(int) = dlsym(RTLD_NEXT, name);
    if (watched(fd)) {
        int error = due();
        if (error) { errno = error; return -1; }
        int kept = 0;
        for (int i = 0; i < logged; i++) if (log_[i].fd != fd) log_[kept++] = log_[i];
        logged = kept;
    }
    return f(fd);
}
int fsync(int fd) { return synced(fd, "fsync"); }
int fdatasync(int fd) { return synced(fd, "fdatasync"); }

int ftruncate64(int fd, off_t size) {
    static int (*f)(int, off_t);
    if (!f) f = dlsym(RTLD_NEXT, "ftruncate64");
    if (logged >= 0 && watched(fd) && mode != CUT) {
        int error = due();
        if (error) { errno = error; return -1; }
    }
    return f(fd, size);
}
int ftruncate(int fd, off_t size) { return ftruncate64(fd, size); }

int rename(const char *from, const char *to) {
    int (*f)(const char *, const char *) = dlsym(RTLD_NEXT, "rename");
    if (strstr(to, "coach")) {
        int error = due();
        if (error) { errno = error; return -1; }
    }
    return f(from, to);
}
