import { answerChannels, answerGroup, withChannels } from '../../app/audio/prepare/answer-group.ts'
import { chooseRecipes, type ChosenFont } from '../../app/audio/prepare/choose-recipes.ts'
import { draftFont } from '../../app/audio/prepare/draft-font.ts'
import { decodedSource } from '../../app/audio/prepare/decoded-source.ts'
import { actionOf, beforeRate } from '../../app/audio/prepare/run-recipe.ts'
import type { SoundToPrepare } from '../../app/audio/prepare/sound-to-prepare.ts'
import { openWav } from '../../app/audio/wav/open-wav.ts'
import { readName } from '../../app/boards/scheme.ts'
import type { Board } from '../../app/model/board.ts'
import type { Finding } from '../../app/model/finding.ts'
import type { Recipe, RecipeStepName } from '../../app/model/recipe.ts'
import type { Edition } from '../../app/model/library.ts'
import { bytesSource } from '../../main/workers/file-byte-source.ts'
import { openKernel } from '../../main/workers/open-kernel.ts'
import { inspected, measured } from './inspected.ts'
import { fontLike, judged } from './judged-font.ts'
import { prepared } from './prepare-by-recipe.ts'
import { shippedScheme } from './shipped-schemes.ts'

export type Waves = Readonly<Record<string, Uint8Array>>
/** The user's words on steps, by path. */
export type Words = Readonly<Record<string, Partial<Record<RecipeStepName, number | null>>>>

const kernel = openKernel()
const cancel = () => {}

/** Sounds in memory as an edition, measured. */
export function fontOfWaves(waves: Waves, name = 'Harbour Bell'): Edition {
  const scheme = shippedScheme('plain-words')
  const sounds = Object.entries(waves).map(([path, bytes]) => {
    const place = readName(scheme, path)
    return {
      id: path,
      editionId: `edition-${name}`,
      path,
      place,
      roleSource: 'scheme' as const,
      inspection: inspected(bytes).inspection,
    }
  })
  return { ...fontLike({ name }), sounds, soundCount: sounds.length }
}

export function toPrepare(
  edition: Edition,
  findings: readonly Finding[],
  isPrepared: (sha256: string) => boolean = () => false,
  words: Words = {},
): readonly SoundToPrepare[] {
  return edition.sounds.flatMap(({ path, place, inspection }) => {
    const { facts, measures, sha256 } = inspection
    if (place === null || facts === null) return []
    const own = findings.filter((finding) => finding.path === path)
    const sound = {
      path,
      sha256,
      place,
      facts,
      measures,
      findings: own,
      choices: new Map(Object.entries(words[path] ?? {})) as SoundToPrepare['choices'],
    }
    return [{ ...sound, isPrepared: isPrepared(sha256) }]
  })
}

/** Chooses the recipes of fonts that need no change of rate, from their real bytes. */
export function chosenFor(
  fonts: readonly Waves[],
  board: Board,
  speakerLowLimitHz: number | null = null,
  words: Words = {},
): readonly ChosenFont[] {
  const drafted = fonts.map((waves, index) => {
    const edition = fontOfWaves(waves, `Font ${index}`)
    const { findings } = judged(edition, board, { speakerLowLimitHz })
    const sounds = toPrepare(edition, findings, undefined, words)
    const font = { editionId: edition.id, name: edition.font.name, sounds, speakerLowLimitHz }
    const draft = draftFont(font, board)
    const answers = draft.groups.map(({ group, drafts }) => {
      const asked = group.sounds.map((question, place) => {
        const source = sourceOf(waves[drafts[place]?.sound.path ?? ''] ?? new Uint8Array())
        const folded =
          question.foldTo === null ? { channels: null, sumDb: null } : answerChannels(source, question.foldTo)
        return { question, source: beforeRate(source, withChannels(question, folded.channels)), folded }
      })
      return answerGroup(group, asked, kernel, cancel)
    })
    return { draft, answers }
  })
  return chooseRecipes(drafted, board)
}

/** The font as it is once its recipes are done; sounds without a step keep their bytes. */
export function doneWith(waves: Waves, chosen: ChosenFont): Waves {
  const recipes = new Map(chosen.recipes.map(({ sound, recipe }) => [sound.path, recipe]))
  return Object.fromEntries(
    Object.entries(waves).map(([path, bytes]) => {
      const recipe = recipes.get(path)
      if (recipe === undefined || recipe.steps.length === 0) return [path, bytes]
      const depth = recipe.steps.find(({ action }) => action.do === 'bit-depth')?.action
      const bitDepth = depth?.do === 'bit-depth' ? depth.bitDepth : 16
      return [path, preparedBelowCeiling(bytes, recipe, bitDepth)]
    }),
  )
}

/** As the workers do it: what comes out above its ceiling is done again a little lower. */
function preparedBelowCeiling(bytes: Uint8Array, recipe: Recipe, bitDepth: number): Uint8Array {
  const ceiling = actionOf(recipe, 'ceiling')
  let underCeilingDb = 0
  for (let attempt = 1; ; attempt++) {
    const done = prepared(sourceOf(bytes), recipe, { bitDepth, underCeilingDb }).bytes
    const above = (measured(done).levels.truePeakDbtp ?? -Infinity) - (ceiling?.ceilingDbtp ?? Infinity)
    if (above <= 0 || attempt === 4) return done
    underCeilingDb += above + 0.01
  }
}

function sourceOf(bytes: Uint8Array) {
  const layout = openWav(bytesSource(bytes), bytes.subarray(0, 4096))?.layout
  if (layout === undefined) throw new Error('this has no samples')
  return decodedSource(bytesSource(bytes), layout)
}
