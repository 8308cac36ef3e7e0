import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import wavefile from 'wavefile'
import type { RecipeAction } from '../../app/model/recipe.ts'
import type { Came, MadeSound, SoundPreparer } from '../../app/ports/sound-preparer.ts'
import { newSha256 } from '../../main/adapters/files/new-sha256.ts'
import { recipeOf } from './prepare-by-recipe.ts'

export const nobodyCancels = {
  aborted: false,
  addEventListener: () => {},
  removeEventListener: () => {},
}

export type Made = { readonly bytes: Uint8Array; readonly sound: MadeSound }

/** Makes sounds from bytes, in a folder of the test; what came of each, its file read while it is there. */
export async function makeFrom(
  preparer: SoundPreparer,
  folder: string,
  wanted: readonly { readonly bytes: Uint8Array; readonly actions: readonly RecipeAction[] }[],
  cancel = nobodyCancels as Parameters<SoundPreparer['make']>[2],
): Promise<readonly (Made | { readonly problem: { readonly code: string; readonly what: string } })[]> {
  const results: (Made | Extract<Came<MadeSound>, { problem: unknown }>)[] = []
  const sounds = wanted.map(({ bytes, actions }, index) => {
    const path = join(folder, `original-${index}`)
    writeFileSync(path, bytes)
    const hasher = newSha256()
    hasher.update(bytes)
    const original = { path, sizeBytes: bytes.length, sha256: hasher.digestHex() }
    return { original, recipe: recipeOf(...actions) }
  })
  await preparer.make(
    sounds,
    async (index, came) => {
      results[index] =
        'made' in came ? { sound: came.made, bytes: new Uint8Array(readFileSync(came.made.path)) } : came
    },
    cancel,
  )
  return results
}

/** Samples of one channel of a whole-number WAV, as fractions of full scale, by another reader. */
export function channelOf(bytes: Uint8Array, channel = 0): Float64Array {
  const wav = new wavefile.WaveFile(bytes)
  const { bitsPerSample, numChannels } = wav.fmt as { bitsPerSample: number; numChannels: number }
  const all = wav.getSamples(true, Float64Array) as unknown as Float64Array
  const frames = all.length / numChannels
  const scale = 2 ** (bitsPerSample - 1)
  return Float64Array.from(
    { length: frames },
    (_, frame) => (all[frame * numChannels + channel] ?? 0) / scale,
  )
}
