import type { ResponseOf } from '../../../app/contract/calls.ts'
import { inUnits } from '../../../app/model/in-units.ts'
import { counted } from '../../elements/in-words.ts'
import { Note } from '../../elements/note.tsx'

type Report = ResponseOf<'verify'>

/** What reading back came to; every difference by its path. */
export function VerifyOutcome({ report }: { readonly report: Report }) {
  const { verified, filesChecked, bytesChecked, fingerprint } = report
  return (
    <Note
      role="status"
      tone={verified ? 'good' : 'bad'}
      title={verified ? 'Verified: every file reads back as recorded.' : 'Not verified: something differs.'}
    >
      <p>
        {counted(filesChecked, 'file')}, {inUnits(bytesChecked)} read back
        {fingerprint === null ? '' : `, fingerprint ${fingerprint}`}.
      </p>
      <Differences name="Missing" paths={report.missing} />
      <Differences name="Changed" paths={report.changed} />
      <Differences name="Added" paths={report.added} />
      <Differences name="Faults of the file system" paths={report.faults} />
      {report.notes.map((note) => (
        <p key={note}>{note}</p>
      ))}
    </Note>
  )
}

function Differences({ name, paths }: { readonly name: string; readonly paths: readonly string[] }) {
  if (paths.length === 0) return null
  return (
    <>
      <p>
        {name} ({paths.length})
      </p>
      <ul>
        {paths.map((path) => (
          <li key={path} className="mono break">
            {path}
          </li>
        ))}
      </ul>
    </>
  )
}
