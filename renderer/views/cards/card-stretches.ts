import type { ResponseOf } from '../../../app/contract/calls.ts'
import { inUnits } from '../../../app/model/in-units.ts'
import type { ToldStretch } from '../../elements/card-strip.tsx'
import { counted, fontInWords } from '../../elements/in-words.ts'

const REST = 'What lies beside the fonts'
const REST_TOLD = 'The config, the credits and the licence record, as far as the board takes them.'

/** The stretches of a card that is being put together. */
export function stretchesOfSize({ fonts, usedBytes }: ResponseOf<'size'>): readonly ToldStretch[] {
  const stretches = fonts.map((font) => ({
    id: font.editionId,
    number: font.slot,
    name: font.font,
    usedBytes: font.usedBytes,
    told:
      `${font.font}: folder ${font.folder}, ${counted(font.files, 'file')}. ` +
      `${font.usedBytes.toLocaleString('en')} bytes of the card: ${inUnits(font.contentBytes)} of files, ` +
      `${inUnits(font.slackBytes)} in the unused ends of clusters, ${inUnits(font.directoryBytes)} for the folder itself.`,
  }))
  return withRest(stretches, usedBytes)
}

/** The stretches of a content as it was made. */
export function stretchesOfContent(content: ResponseOf<'contents:show'>): readonly ToldStretch[] {
  const stretches = content.fonts.map((font) => {
    const name = fontInWords(font.font, font.version)
    const files = content.files.filter(({ path }) => path.startsWith(`${font.folder}/`)).length
    return {
      id: `${font.slot}`,
      number: font.slot,
      name,
      usedBytes: font.usedBytes,
      told:
        `Number ${font.slot} is ${name}${font.creator === null ? '' : ` by ${font.creator}`}: ` +
        `folder ${font.folder}, ${counted(files, 'file')}, ${font.usedBytes.toLocaleString('en')} bytes of the card.`,
    }
  })
  return withRest(stretches, content.usedBytes)
}

function withRest(fonts: readonly ToldStretch[], usedBytes: number): readonly ToldStretch[] {
  const restBytes = usedBytes - fonts.reduce((sum, font) => sum + font.usedBytes, 0)
  if (restBytes <= 0) return fonts
  const told = `${REST_TOLD} ${restBytes.toLocaleString('en')} bytes of the card.`
  return [...fonts, { id: 'root', number: null, name: REST, usedBytes: restBytes, told }]
}
