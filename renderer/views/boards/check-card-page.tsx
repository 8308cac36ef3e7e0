import { Select } from '@mantine/core'
import { useState } from 'react'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { FindingsList } from '../../elements/findings-list.tsx'
import { counted } from '../../elements/in-words.ts'
import { LongCallFoot } from '../../elements/long-call-foot.tsx'
import { Note } from '../../elements/note.tsx'
import { PageHead } from '../../elements/page-head.tsx'
import { PathField } from '../../elements/path-field.tsx'
import { VerdictMark } from '../../elements/verdict-mark.tsx'
import { valueOr } from '../../hooks/loaded.ts'
import { useAsk } from '../../hooks/use-ask.ts'
import { useChosenBoard } from '../../hooks/use-chosen-board.tsx'
import { useLongCall } from '../../hooks/use-long-call.ts'

/** What a board makes of a card as it lies there: its folder or its image. */
export function CheckCardPage() {
  const boards = valueOr(useAsk('boards:list', {}), undefined)?.boards ?? []
  const { boardId: usual } = useChosenBoard()
  const { now, start } = useLongCall('check:card', 'check-card')
  const [from, setFrom] = useState('')
  const [reportPath, setReportPath] = useState('')
  const [chosen, setChosen] = useState<string | null>(null)
  const boardId = chosen ?? usual ?? null
  const canStart = from.trim() !== '' && boardId !== null && now.state !== 'running'
  return (
    <div className="page-stack">
      <PageHead
        title="Check a card"
        about="A card as it lies there, whoever made it: nothing is renamed for it any more. It is only read."
      />
      <form
        className="sheet sheet-stack"
        aria-label="Check a card"
        onSubmit={(event) => {
          event.preventDefault()
          const page = reportPath.trim()
          if (canStart) start({ from: from.trim(), boardId, ...(page === '' ? {} : { reportPath: page }) })
        }}
      >
        <PathField
          label="Folder or image of the card"
          description="Where the card is mounted, a copy of it, or an image of it"
          kinds={['folder', 'image-to-read']}
          value={from}
          onChange={setFrom}
        />
        <Select
          label="For the board"
          data={boards.map(({ id, title }) => ({ value: id, label: title }))}
          value={boardId}
          onChange={setChosen}
          allowDeselect={false}
          maw="22rem"
        />
        <PathField
          label="Also write a page for the fonts' creators"
          description="A full path to an .html file, to send or print; empty for none"
          kinds={[]}
          value={reportPath}
          onChange={setReportPath}
        />
        <LongCallFoot
          act="Check the card"
          name={`Check of ${from}`}
          now={now}
          isDisabled={from.trim() === ''}
        />
      </form>
      {now.state === 'done' && <CheckedCard report={now.value} />}
    </div>
  )
}

function CheckedCard({ report }: { readonly report: ResponseOf<'check:card'> }) {
  const { boardTitle, fonts, cardFindings } = report
  const waiting = fonts.filter(({ verdict }) => verdict.word !== 'ready').length
  const holds = waiting === 0 && cardFindings.every(({ severity }) => severity !== 'error')
  return (
    <>
      <Note
        tone={holds ? 'good' : 'bad'}
        role="status"
        title={
          holds
            ? `${boardTitle} plays this card: ${counted(fonts.length, 'font')}.`
            : `${boardTitle} does not play all of this card: ${waiting} of ${counted(fonts.length, 'font')} not ready.`
        }
      />
      {cardFindings.length > 0 && (
        <section className="sheet sheet-stack" aria-label="The whole card">
          <h2>The whole card</h2>
          <FindingsList findings={cardFindings} />
        </section>
      )}
      {fonts.map(({ folder, soundCount, verdict, findings }) => (
        <section key={folder} className="sheet sheet-stack" aria-label={folder}>
          <div className="row">
            <h2 className="mono break">{folder}</h2>
            <VerdictMark verdict={verdict} />
            <span className="quiet">{counted(soundCount, 'sound')}</span>
          </div>
          {findings.length === 0 ? <p>Nothing was found.</p> : <FindingsList findings={findings} />}
        </section>
      ))}
    </>
  )
}
