/* Peer of the measuring benches: integrated loudness, loudness range and true peak of many WAV files
 * by libebur128, on two threads. Reads plain 16 and 24 bit PCM, which is what the benches generate.
 * usage: loudness-peer FILE...   (a list on standard input where none is named) */
#include <ebur128.h>
#include <pthread.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char **files;
static int count, next_file;
static pthread_mutex_t lock = PTHREAD_MUTEX_INITIALIZER;

static uint32_t u32(const uint8_t *p) { return p[0] | p[1] << 8 | p[2] << 16 | (uint32_t)p[3] << 24; }

static void measure(const char *path) {
  FILE *f = fopen(path, "rb");
  if (!f) { fprintf(stderr, "cannot open %s\n", path); exit(1); }
  uint8_t head[44];
  if (fread(head, 1, 44, f) != 44) { fprintf(stderr, "short %s\n", path); exit(1); }
  unsigned channels = head[22], rate = u32(head + 24), bits = head[34], width = bits / 8;
  size_t frames = u32(head + 40) / width / channels, done = 0;
  ebur128_state *st = ebur128_init(channels, rate, EBUR128_MODE_I | EBUR128_MODE_LRA | EBUR128_MODE_TRUE_PEAK);
  enum { STEP = 65536 };
  uint8_t *raw = malloc(STEP * width * channels);
  int *wide = malloc(STEP * channels * sizeof(int));
  while (done < frames) {
    size_t want = frames - done < STEP ? frames - done : STEP, got = fread(raw, width * channels, want, f);
    if (!got) break;
    if (bits == 16) ebur128_add_frames_short(st, (const short *)raw, got);
    else {
      for (size_t i = 0; i < got * channels; i++)
        wide[i] = (int)((uint32_t)raw[3 * i] << 8 | (uint32_t)raw[3 * i + 1] << 16 | (uint32_t)raw[3 * i + 2] << 24);
      ebur128_add_frames_int(st, wide, got);
    }
    done += got;
  }
  double integrated, range, peak = 0, p;
  ebur128_loudness_global(st, &integrated);
  ebur128_loudness_range(st, &range);
  for (unsigned c = 0; c < channels; c++) { ebur128_true_peak(st, c, &p); if (p > peak) peak = p; }
  pthread_mutex_lock(&lock);
  printf("%.3f %.3f %.6f %s\n", integrated, range, peak, path);
  pthread_mutex_unlock(&lock);
  ebur128_destroy(&st);
  free(raw); free(wide); fclose(f);
}

static void *work(void *unused) {
  (void)unused;
  for (;;) {
    pthread_mutex_lock(&lock);
    int mine = next_file++;
    pthread_mutex_unlock(&lock);
    if (mine >= count) return NULL;
    measure(files[mine]);
  }
}

int main(int argc, char **argv) {
  files = argv + 1; count = argc - 1;
  if (!count) {
    static char line[4096];
    size_t room = 1024;
    files = malloc(room * sizeof(char *));
    while (fgets(line, sizeof line, stdin)) {
      line[strcspn(line, "\n")] = 0;
      if ((size_t)count == room) files = realloc(files, (room *= 2) * sizeof(char *));
      files[count++] = strdup(line);
    }
  }
  pthread_t threads[2];
  for (int i = 0; i < 2; i++) pthread_create(&threads[i], NULL, work, NULL);
  for (int i = 0; i < 2; i++) pthread_join(threads[i], NULL);
  return 0;
}
