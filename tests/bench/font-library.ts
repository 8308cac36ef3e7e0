import { existsSync, mkdirSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { plainWave } from '../support/plain-wave.ts'

const SOUNDS_A_FONT = 100
const FONTS_A_MAKER = 25

/**
 * A library of fonts of a hundred short sounds each, all different, as makers hand them out: the
 * roles can be read, nothing is wrong with them. Made once, and found again by later runs.
 *
 * @param frames length of a sound at 22.05 kHz, 16 bit, one channel
 * @returns its folder
 */
export function fontLibrary(dataFolder: string, soundCount: number, frames: number): string {
  const folder = join(dataFolder, `fonts-${soundCount}-${frames}`)
  if (existsSync(folder)) return folder
  // Under another name until it is whole: a run that is broken off leaves no half of one behind.
  const making = `${folder}.making`
  rmSync(making, { recursive: true, force: true })
  for (let sound = 0; sound < soundCount; sound += 1) {
    const font = Math.floor(sound / SOUNDS_A_FONT)
    const home = join(making, `Maker ${Math.floor(font / FONTS_A_MAKER)}`, `Font ${font} v1.0`)
    if (sound % SOUNDS_A_FONT === 0) {
      mkdirSync(home, { recursive: true })
      writeFileSync(join(home, 'about.txt'), `Font ${font}\n`)
    }
    const number = sound % SOUNDS_A_FONT
    const name = number === 0 ? 'hum.wav' : `clash-${String(number).padStart(2, '0')}.wav`
    writeFileSync(join(home, name), unlike(plainWave(sound, frames), sound))
  }
  renameSync(making, folder)
  return folder
}

/** No two of them have the same samples. */
function unlike(wave: Uint8Array, sound: number): Uint8Array {
  new DataView(wave.buffer).setUint32(44, sound, true)
  return wave
}
