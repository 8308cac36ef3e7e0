import type { Board } from '../model/board.ts'

const SLOT = /\{(slot|name)(?::0?([1-6]))?\}/g

/** What is wrong with a folder template, as a sentence without its end; null where nothing is. */
export function folderTemplateFault(template: string): string | null {
  const rest = template.replace(SLOT, '')
  if (!/\{(slot|name)/.test(template) || rest === template)
    return `"${template}" has neither {slot} nor {name}`
  if (/[{}]/.test(rest)) return `"${template}" has a slot that is neither {slot}, {slot:02} nor {name}`
  if (/\{name:/.test(template)) return `"${template}" gives {name} a width`
  // eslint-disable-next-line no-control-regex
  if (/[\u0000-\u001f"*:<>?\\|]/.test(rest)) return `"${template}" has a character that no folder may have`
  if (template.split('/').some((step) => step === '' || step === '.' || step === '..')) {
    return `"${template}" is no path on a card`
  }
  return null
}

/**
 * The folder that a font gets on a card, by the board's template, characters, case and length.
 *
 * Characters that the board does not take become the nearest plain letter, else a hyphen. Where the
 * name is too long it is the font's name that gives way, never the slot. Two fonts can only meet in
 * one folder where the template has no slot: that is for the plan to say.
 */
export function folderNameOf(board: Board, slot: number, fontName: string): string {
  const { folderTemplate } = board.fonts
  const steps = folderTemplate.split('/')
  return steps
    .map((step) => {
      const room = board.names.longestNameUnits ?? 255
      let kept = plainName(board, fontName)
      for (;;) {
        const written = fitCase(board, fillStep(step, slot, kept))
        if (written.length <= room || kept === '') return written
        kept = [...kept]
          .slice(0, -1)
          .join('')
          .replace(/[-. ]+$/, '')
      }
    })
    .join('/')
}

function fillStep(step: string, slot: number, name: string): string {
  const filled = step.replace(SLOT, (_all, kind: string, width: string | undefined) =>
    kind === 'slot' ? String(slot).padStart(Number(width ?? 1), '0') : name,
  )
  return name === '' ? filled.replace(/[-_ .]+$/, '') : filled
}

/** A font's name in characters that the board takes. */
function plainName(board: Board, fontName: string): string {
  const allowed = characterTest(board)
  let plain = ''
  for (const character of fitCase(board, fontName.normalize('NFC'))) {
    if (allowed(character) && !/[/\\]/.test(character)) plain += character
    else {
      // An accented letter gives its plain one (UAX #15: decomposition, marks dropped).
      const bare = character.normalize('NFD').replace(/\p{M}/gu, '')
      plain += bare !== '' && [...bare].every(allowed) ? bare : joint(allowed)
    }
  }
  const hyphen = joint(allowed)
  const joined =
    hyphen === ''
      ? plain
      : plain
          .split(hyphen)
          .filter((stretch) => stretch !== '')
          .join(hyphen)
  const trimmed = joined.replace(/^ +|[. ]+$/g, '')
  return trimmed === '' ? fitCase(board, 'font') : trimmed
}

/** What stands for a character that cannot be written. */
function joint(allowed: (character: string) => boolean): string {
  return ['-', '_'].find(allowed) ?? ''
}

/** Whether the board takes a character in a name. */
export function characterTest(board: Board): (character: string) => boolean {
  const pattern = new RegExp(`^(?:${board.names.charset})$`, 'u')
  return (character) => pattern.test(character)
}

/** A text in the letters that the board takes. */
export function fitCase(board: Board, text: string): string {
  if (board.names.letterCase === 'lower') return text.toLowerCase()
  return board.names.letterCase === 'upper' ? text.toUpperCase() : text
}
