import { htmlText } from '../../boards/html-page.ts'
import type { EvennessPicture, PictureShape, PictureTone } from '../../model/evenness-picture.ts'

const COLOURS: Readonly<Record<PictureTone, string>> = {
  before: '#b0722c',
  after: '#2c6fb0',
  band: '#7aa37a',
  scale: 'currentColor',
  move: 'currentColor',
}

/**
 * The picture as an SVG on its own: no script, nothing fetched.
 * @param label what it shows, for those who do not see it
 */
export function evennessSvg({ width, height, shapes }: EvennessPicture, label: string): string {
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" role="img" aria-label="${htmlText(label)}" font-family="system-ui, sans-serif" font-size="13" fill="currentColor">`,
    ...shapes.map(shapeSvg),
    '</svg>',
  ].join('\n')
}

function shapeSvg(shape: PictureShape): string {
  switch (shape.kind) {
    case 'area':
      return `<rect x="${shape.x}" y="${shape.y}" width="${shape.width}" height="${shape.height}" fill="${COLOURS[shape.tone]}" fill-opacity="0.22"/>`
    case 'line':
      return `<line x1="${shape.x1}" x2="${shape.x2}" y1="${shape.y1}" y2="${shape.y2}" stroke="${COLOURS[shape.tone]}" ${strokeOf(shape.tone)}/>`
    case 'ring':
      return `<circle cx="${shape.x}" cy="${shape.y}" r="5.5" fill="none" stroke="${COLOURS[shape.tone]}" stroke-width="2"/>`
    case 'disc':
      return `<circle cx="${shape.x}" cy="${shape.y}" r="4.5" fill="${COLOURS[shape.tone]}"/>`
    case 'text':
      return `<text x="${shape.x}" y="${shape.y}" text-anchor="${shape.anchor}">${htmlText(shape.text)}</text>`
  }
}

function strokeOf(tone: PictureTone): string {
  if (tone === 'scale') return 'stroke-opacity="0.15"'
  return tone === 'move' ? 'stroke-opacity="0.5"' : 'stroke-width="1.5"'
}
