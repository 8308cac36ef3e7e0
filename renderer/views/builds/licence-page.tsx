import { Note } from '../../elements/note.tsx'
import { PageHead } from '../../elements/page-head.tsx'
import { LicenceCaution } from '../../elements/cautions.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { LicenceForm } from './licence-form.tsx'
import { RecordsPlaces } from './records-places.tsx'
import { RemoveLicence } from './remove-licence.tsx'

const NEW_FOR = /^new(?:-(.+))?$/

/** A licence that is added (`new`, or `new-<font id>`) or shown, changed and removed. */
export function LicencePage({ id }: { readonly id: string }) {
  const licences = useAsk('licences:list', {})
  const fonts = useAsk('fonts:list', {})
  const added = NEW_FOR.exec(id)
  return (
    <div className="page-stack">
      <RecordsPlaces />
      <WhenLoaded loaded={licences} what="the licence">
        {({ licences: list }) => {
          const licence = list.find((each) => each.id === id)
          if (licence === undefined && added === null) {
            return <Note tone="care" title="This licence is not on record." />
          }
          return (
            <>
              <PageHead title={licence === undefined ? 'New licence' : `Licence for ${licence.fontName}`}>
                {licence !== undefined && <RemoveLicence id={licence.id} />}
              </PageHead>
              <WhenLoaded loaded={fonts} what="fonts">
                {({ fonts: rows }) => (
                  <LicenceForm licence={licence} forFontId={added?.[1] ?? null} rows={rows} />
                )}
              </WhenLoaded>
              <LicenceCaution />
            </>
          )
        }}
      </WhenLoaded>
    </div>
  )
}
