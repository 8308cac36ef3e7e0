import { counted, fontInWords } from '../../elements/in-words.ts'
import { ListTable, type Column } from '../../elements/list-table.tsx'
import { valueOr } from '../../hooks/loaded.ts'
import { useAsk } from '../../hooks/use-ask.ts'
import type { ShownContent } from './content-page.tsx'

type Accepted = ShownContent['acceptedFindings'][number]
type RuleChange = ShownContent['ruleChanges'][number]
type Recipe = ShownContent['recipes'][number]
type SingleSound = ShownContent['singleSounds'][number]

const ACCEPTED: readonly Column<Accepted>[] = [
  { head: 'Finding', look: 'mono', cell: ({ rule }) => rule },
  { head: 'Sound', look: 'mono break', cell: ({ path }) => path ?? 'the card as a whole' },
  { head: 'Accepted since', look: 'break', cell: ({ reason }) => reason },
]

const RULES: readonly Column<RuleChange>[] = [
  { head: 'Rule', look: 'mono', cell: ({ rule }) => rule },
  { head: 'Weighed as', cell: ({ severity }) => severity },
  { head: 'Since', look: 'break', cell: ({ reason }) => reason },
]

const RECIPES: readonly Column<Recipe>[] = [
  { head: 'Sound', look: 'mono break', cell: ({ path }) => path },
  {
    head: 'Prepared by',
    cell: ({ steps }) => (
      <ol className="steps">
        {steps.map(({ step, reason }) => (
          <li key={step}>
            {step} <span className="quiet">{reason}</span>
          </li>
        ))}
      </ol>
    ),
  },
]

/** In what the card is other than its fonts as they came, each with its reason where one was given. */
export function ContentChanges({ content }: { readonly content: ShownContent }) {
  const { acceptedFindings, ruleChanges, singleSounds, recipes, config } = content
  const isPlain =
    [acceptedFindings, ruleChanges, singleSounds, recipes].every((list) => list.length === 0) &&
    config === null
  if (isPlain) {
    return (
      <section className="sheet sheet-stack" aria-label="Accepted and changed">
        <h2>Accepted and changed</h2>
        <p>No finding was accepted, and every sound is as it came.</p>
      </section>
    )
  }
  return (
    <section className="sheet sheet-stack" aria-label="Accepted and changed">
      <h2>Accepted and changed</h2>
      {acceptedFindings.length === 0 ? (
        <p>No finding was accepted.</p>
      ) : (
        <ListTable
          name="Accepted findings"
          rows={acceptedFindings}
          keyOf={({ rule, path }) => `${rule} ${path}`}
          columns={ACCEPTED}
          none=""
        />
      )}
      {ruleChanges.length > 0 && (
        <ListTable
          name="Rules of the build"
          rows={ruleChanges}
          keyOf={({ rule, severity, reason }) => `${rule} ${severity} ${reason}`}
          columns={RULES}
          none=""
        />
      )}
      {singleSounds.length > 0 && <SingleSounds content={content} />}
      {recipes.length > 0 && (
        <details>
          <summary>{counted(recipes.length, 'sound')} prepared for the board</summary>
          <ListTable
            name="Prepared sounds"
            rows={recipes}
            keyOf={({ path }) => path}
            columns={RECIPES}
            none=""
          />
        </details>
      )}
      {config !== null && (
        <details>
          <summary>
            The config <span className="mono">{config.fileName}</span>, as it was
          </summary>
          <pre className="board-text mono" tabIndex={0} aria-label={`Text of ${config.fileName}`}>
            {config.text}
          </pre>
        </details>
      )}
    </section>
  )
}

function SingleSounds({ content }: { readonly content: ShownContent }) {
  const rows = valueOr(useAsk('fonts:list', {}), undefined)?.fonts ?? []
  const names = new Map([
    ...rows.map((row) => [row.id, fontInWords(row.font.name, row.version)] as const),
    ...content.lenders.map((font) => [font.editionId, fontInWords(font.font, font.version)] as const),
    ...content.fonts.map((font) => [font.editionId, fontInWords(font.font, font.version)] as const),
  ])
  const nameOf = (editionId: string) => names.get(editionId) ?? 'a font that is gone'
  return (
    <ul aria-label="Single sounds">
      {content.singleSounds.map((single) => (
        <li key={JSON.stringify(single)} className="break">
          {singleInWords(single, nameOf)}
        </li>
      ))}
    </ul>
  )
}

function singleInWords(single: SingleSound, nameOf: (editionId: string) => string): string {
  switch (single.kind) {
    case 'added':
      return `${single.sound.path} of ${nameOf(single.sound.editionId)} plays in ${nameOf(single.editionId)} as well`
    case 'replaced':
      return `${single.sound.path} of ${nameOf(single.sound.editionId)} plays in place of ${single.path} of ${nameOf(single.editionId)}`
    case 'left-out':
      return `${single.path} of ${nameOf(single.editionId)} is left out`
  }
}
