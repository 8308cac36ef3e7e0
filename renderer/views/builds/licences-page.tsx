import { LicenceCaution } from '../../elements/cautions.tsx'
import { PageHead } from '../../elements/page-head.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { LicencesTable } from './licences-table.tsx'
import { RecordsPlaces } from './records-places.tsx'

export function LicencesPage() {
  const licences = useAsk('licences:list', {})
  return (
    <div className="page-stack">
      <RecordsPlaces />
      <PageHead title="Licences" about="What was bought or given, for which font, in whose name">
        <PageLink to="/builds/licences/new" isMain>
          Add a licence
        </PageLink>
      </PageHead>
      <WhenLoaded loaded={licences} what="licences">
        {({ licences: rows }) => <LicencesTable licences={rows} />}
      </WhenLoaded>
      <LicenceCaution />
    </div>
  )
}
