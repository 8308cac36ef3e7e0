import type { ResponseOf } from '../../../app/contract/calls.ts'
import { PageLink } from '../../elements/page-link.tsx'
import { BeforeAfter } from './before-after.tsx'
import { changeRows } from './prepared-in-words.ts'
import { RecipeSteps } from './recipe-steps.tsx'

interface PreparedForBoardProps {
  readonly editionId: string
  readonly boardTitle: string
  readonly sound: ResponseOf<'sounds:prepared'>
}

/** How one sound stands for the board on the bench: its recipe, and before and after. */
export function PreparedForBoard({ editionId, boardTitle, sound }: PreparedForBoardProps) {
  const { isPrepared, after, steps, told } = sound
  return (
    <section className="sheet sheet-stack" aria-label="Prepared">
      <h2>Prepared for {boardTitle}</h2>
      {!isPrepared && (
        <div className="row">
          <p>It was not prepared for this board, or its original has changed since.</p>
          <PageLink to={`/fonts/prepare/font/${editionId}`}>Prepare its font</PageLink>
        </div>
      )}
      {isPrepared && after === null && <p>It needs nothing: the original goes on the card as it is.</p>}
      {after !== null && (
        <div className="two-columns">
          <div>
            <h3>What was done</h3>
            <RecipeSteps steps={steps} />
          </div>
          <div>
            <h3>Before → after</h3>
            <BeforeAfter rows={changeRows(sound)} />
          </div>
        </div>
      )}
      {told.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
    </section>
  )
}
