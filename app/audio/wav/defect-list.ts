import type { Defect } from '../../model/audio-facts.ts'

/** A broken file can have a fault in each of a million chunks; the first hundred tell enough. */
const MOST_DEFECTS = 100

export class DefectList {
  readonly found: Defect[] = []

  add(code: string, offset: number, message: string): void {
    if (this.found.length < MOST_DEFECTS) this.found.push({ code, offset, message })
  }
}
