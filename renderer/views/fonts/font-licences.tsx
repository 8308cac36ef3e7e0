import type { Licence } from '../../../app/model/records.ts'
import { LicenceCaution } from '../../elements/cautions.tsx'
import { Note } from '../../elements/note.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { LicencesTable } from '../builds/licences-table.tsx'

interface FontLicencesProps {
  readonly fontId: string
  readonly licences: readonly Licence[]
}

export function FontLicences({ fontId, licences }: FontLicencesProps) {
  return (
    <div className="sheet-stack">
      {licences.length === 0 ? (
        <Note tone="care" title="No licence is on record">
          A card can be made all the same; its record will say so.
        </Note>
      ) : (
        <LicencesTable licences={licences} />
      )}
      <div className="row">
        <PageLink to={`/builds/licences/new-${fontId}`}>Add a licence</PageLink>
      </div>
      <LicenceCaution />
    </div>
  )
}
