import { evennessPicture, type PictureShape } from '../../../app/model/evenness-picture.ts'
import { counted } from '../../elements/in-words.ts'
import type { PrepareReport } from '../../hooks/use-preparing.ts'
import { spreadInWords } from './prepared-in-words.ts'

/** Loudness of all fonts before and after, in one picture with the board's band. */
export function EvennessFigure({ report }: { readonly report: PrepareReport }) {
  const { width, height, shapes } = evennessPicture(report.fonts, report.humBand)
  const spread = spreadInWords(report)
  return (
    <figure className="evenness">
      <svg
        viewBox={`0 0 ${width} ${height}`}
        role="img"
        aria-label={`Loudness of ${counted(report.fonts.length, 'font')} before and after. ${spread ?? ''}`.trim()}
      >
        {shapes.map((shape, index) => (
          // Shapes have no name but their place in the picture.
          <Shape key={index} shape={shape} />
        ))}
      </svg>
      <figcaption>
        {spread !== null && <p>{spread}</p>}
        <p className="quiet">
          Ring: the hum before. Disc: the hum {report.dryRun ? 'as it would be' : 'after'}. Strokes: effects,
          above the line before, below it after. Shaded: the board's band for hums.
        </p>
      </figcaption>
    </figure>
  )
}

function Shape({ shape }: { readonly shape: PictureShape }) {
  switch (shape.kind) {
    case 'area':
      return (
        <rect className="evenness-band" x={shape.x} y={shape.y} width={shape.width} height={shape.height} />
      )
    case 'line':
      return (
        <line className={`evenness-${shape.tone}`} x1={shape.x1} x2={shape.x2} y1={shape.y1} y2={shape.y2} />
      )
    case 'ring':
      return <circle className="evenness-ring" cx={shape.x} cy={shape.y} r={5.5} />
    case 'disc':
      return <circle className="evenness-disc" cx={shape.x} cy={shape.y} r={4.5} />
    case 'text':
      return (
        <text x={shape.x} y={shape.y} textAnchor={shape.anchor}>
          {shape.text}
        </text>
      )
  }
}
