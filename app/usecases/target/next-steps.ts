import type { TargetPlace } from '../../model/target.ts'

/** What is to be done once a target is written, each in one sentence. */
export function nextSteps({ kind, path }: TargetPlace, fingerprint: string): readonly string[] {
  if (kind === 'folder') {
    return [
      `Whoever copies this folder to a card checks the copy with \`verify FOLDER --against ${fingerprint}\`.`,
    ]
  }
  return [
    `Eject ${path} before you take the card out: what the computer still holds back is written then.`,
    `Reading back at once may only have read the computer's own memory. For a true read-back take the card out, put it in again and run \`verify ${path} --against ${fingerprint}\`.`,
    'Take the cell out of the hilt before the card goes in, unless the maker of the board says otherwise.',
  ]
}
