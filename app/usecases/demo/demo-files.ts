import type { DemoFile } from '../../ports/demo-folder.ts'
import type { DemoFont, DemoScenario, Plant } from './scenario.ts'
import { synthesiseSound } from './synthesise-sound.ts'

/** All files of one demo font, sorted by path, with the planted faults in them. */
export function demoFilesOf(scenario: DemoScenario, font: DemoFont): readonly DemoFile[] {
  const faults = scenario.faults.filter((fault) => fault.font === font.name)
  const ofFont = merged(faults.filter((fault) => fault.path === null).map((fault) => fault.plant))
  const files: DemoFile[] = []
  for (const [path, sound] of Object.entries(font.sounds)) {
    const planted = merged([
      ofFont,
      ...faults.filter((fault) => fault.path === path).map((fault) => fault.plant),
    ])
    if (planted.leftOut !== true) {
      files.push({ path, contents: () => synthesiseSound(font, path, sound, planted) })
    }
  }
  for (const [path, text] of Object.entries(font.texts)) files.push({ path, contents: () => text })
  for (const { path, plant } of faults) {
    const { litter } = plant
    if (path !== null && litter !== undefined) files.push({ path, contents: () => bytesOf(litter) })
  }
  return files.sort((a, b) => (a.path < b.path ? -1 : 1))
}

function merged(plants: readonly Plant[]): Plant {
  return Object.assign({}, ...plants) as Plant
}

/** One byte a character, for what is no text. */
function bytesOf(text: string): Uint8Array {
  return Uint8Array.from(text, (character) => character.charCodeAt(0))
}
