import { chmodSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, onTestFinished, test, vi } from 'vitest'
import { OWN_MARK } from '../../main/adapters/files/process-mark.ts'
import { decodeByFfmpeg } from '../../main/adapters/media/decode-by-ffmpeg.ts'
import { ffmpegPath } from '../../main/adapters/media/ffmpeg-path.ts'
import { openWorkerPreparer } from '../../main/workers/worker-preparer.ts'
import { makeFrom } from '../support/open-preparer.ts'
import { noise } from '../support/signals.ts'
import { smallDisk, testOnSmallDisk } from '../support/small-disk.ts'
import { temporaryFolder } from '../support/temporary-folder.ts'
import { wavFile } from '../support/wav-bytes.ts'

const depth = { do: 'bit-depth', bitDepth: 16, dither: 'tpdf' } as const
const header = { do: 'header', header: 'plain' } as const
const usual = { bytes: wavFile([noise(1, 900)]), actions: [depth, header] }

function openedIn(folder: string) {
  const preparer = openWorkerPreparer({ scratchFolder: join(folder, 'scratch') })
  onTestFinished(() => preparer.close())
  return preparer
}

/** A script of the shell is ffmpeg, in this test. */
function useFfmpeg(folder: string, script: string): void {
  const program = join(folder, 'ffmpeg')
  writeFileSync(program, `#!/bin/sh\n${script}\n`)
  chmodSync(program, 0o755)
  vi.stubEnv('CARDWRIGHT_FFMPEG', program)
  onTestFinished(() => void vi.unstubAllEnvs())
}

/** Has a program stand in for ffmpeg that comes to no end, when it is asked for `what`. */
function hangingFfmpeg(folder: string, what: 'its version' | 'its work'): { readonly started: string } {
  const started = join(folder, 'started')
  const says = what === 'its work' ? 'case "$*" in *-version*) echo "ffmpeg version odd"; exit 0;; esac' : ''
  useFfmpeg(folder, `${says}\necho $$ > "${started}.new"; mv "${started}.new" "${started}"\nexec sleep 100`)
  return { started }
}

test.each(['its version', 'its work'] as const)(
  'cancelling reaches an ffmpeg that is asked for %s and comes to no end',
  async (what) => {
    const folder = temporaryFolder()
    const { started } = hangingFfmpeg(folder, what)
    const abort = new AbortController()
    const preparer = openedIn(folder)
    // Decoded by ffmpeg, as nothing else can.
    const foreign = { bytes: Buffer.from(`fLaC${'.'.repeat(500)}`), actions: [depth, header] }
    const running = makeFrom(preparer, folder, [foreign], abort.signal)
    const cancelled = expect(running).rejects.toMatchObject({ code: 'cancelled' })
    await vi.waitFor(() => expect(existsSync(started)).toBe(true), 20_000)
    const asked = performance.now()
    abort.abort()
    await cancelled
    await preparer.close()
    expect(performance.now() - asked).toBeLessThan(10_000)
    const processId = Number(readFileSync(started, 'utf8'))
    await vi.waitFor(() => expect(() => process.kill(processId, 0)).toThrow('ESRCH'), 2000)
  },
)

test('where a run cannot have its folder, that is told once, with its place', async () => {
  const folder = temporaryFolder()
  const scratch = join(folder, 'scratch')
  // Files lie where the next runs of this process would have their folders.
  mkdirSync(scratch)
  for (let run = 1; run < 100; run++) writeFileSync(join(scratch, `${OWN_MARK}.${run}`), '')
  const refusal = { code: 'prepare/disk-fault', where: scratch }
  await expect(makeFrom(openedIn(folder), folder, [usual, usual])).rejects.toMatchObject(refusal)
})

test('a place for what is half done that cannot be used is told with its path', async () => {
  const folder = temporaryFolder()
  writeFileSync(join(folder, 'scratch'), 'a file')
  await expect(makeFrom(openedIn(folder), folder, [usual])).rejects.toMatchObject({
    code: 'prepare/disk-fault',
    where: join(folder, 'scratch'),
  })
})

const toRate = { do: 'sample-rate', fromHz: 48_000, toHz: 44_100, isLoop: false } as const
const converted = { bytes: wavFile([noise(2, 900)], { rateHz: 48_000 }), actions: [toRate, depth, header] }

test.each([
  {
    name: 'is ended from outside',
    script: 'echo "size= 0kB speed: 1x 0.00%" >&2; kill -9 $$',
    told: /^ffmpeg could not change the sample rate \(it was ended from outside\)\.$/,
  },
  {
    name: 'speaks in one line without end',
    script: 'head -c 100000 /dev/zero | tr "\\\\0" x >&2; exit 1',
    told: /^ffmpeg could not change the sample rate \(x{200}\)\.$/,
  },
])('an ffmpeg that $name is told in a sentence', async ({ script, told }) => {
  const folder = temporaryFolder()
  useFfmpeg(folder, script)
  const [came] = await makeFrom(openedIn(folder), folder, [converted])
  expect(came).toMatchObject({
    problem: { code: 'prepare/ffmpeg-failed', what: expect.stringMatching(told) },
  })
})

test('an ffmpeg that does not say its version is used with what every one can do, and that is told', async () => {
  const usual = ffmpegPath()
  const folder = temporaryFolder()
  useFfmpeg(
    folder,
    `case "$*" in *-version*) head -c 99 /dev/urandom; exit 0;; *soxr*) exit 1;; esac\nexec "${usual}" "$@"`,
  )
  const preparer = openedIn(folder)
  const [came] = await makeFrom(preparer, folder, [converted])
  expect(came).toHaveProperty('sound')
  const { fallBack, withFfmpeg } = await preparer.tools()
  expect(fallBack).toMatch(/^ffmpeg does not say which version it is; it is used/)
  expect(withFfmpeg).toContain('ffmpeg unknown, own')
})

describe('an ffmpeg that finds no room on the disk', () => {
  const roomy = wavFile([noise(5, 400_000)], { rateHz: 48_000 })

  testOnSmallDisk('is told as a full disk, not as a fault of the sound', async () => {
    const original = join(temporaryFolder(), 'original.wav')
    writeFileSync(original, roomy)
    const decoding = decodeByFfmpeg(original, 'wav', join(smallDisk(200 << 10), 'decoded.wav'))
    await expect(decoding).rejects.toMatchObject({ code: 'ENOSPC' })
  })

  testOnSmallDisk('ends the change of sample rate as a full disk', async () => {
    const folder = temporaryFolder()
    const scratchFolder = join(smallDisk(400 << 10), 'scratch')
    const preparer = openWorkerPreparer({ scratchFolder })
    onTestFinished(() => preparer.close())
    const [came] = await makeFrom(preparer, folder, [{ bytes: roomy, actions: [toRate, depth, header] }])
    expect(came).toMatchObject({ problem: { code: 'prepare/disk-full', where: scratchFolder } })
  })
})
