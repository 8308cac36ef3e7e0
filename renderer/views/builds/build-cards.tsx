import { ListTable } from '../../elements/list-table.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { CONTENT_HOLDS, CONTENT_NAMED } from '../cards/content-columns.tsx'

const COLUMNS = [...CONTENT_NAMED, ...CONTENT_HOLDS]

/** What was made for a build, the newest first: which font is number 3 is answered there, not by later edits. */
export function BuildCards({ code }: { readonly code: string }) {
  const contents = useAsk('contents:list', {})
  return (
    <section className="sheet sheet-stack" aria-label="Cards made">
      <WhenLoaded loaded={contents} what="cards">
        {({ contents: all }) => {
          const rows = all.filter(({ builds }) => builds.includes(code))
          const [newest, former] = rows
          return (
            <>
              <div className="row">
                <h2>Cards made</h2>
                <span className="spring" />
                {newest !== undefined && (
                  <PageLink to={`/cards/contents/${newest.fingerprint}`}>Which one is number …</PageLink>
                )}
                {newest !== undefined && former !== undefined && (
                  <PageLink to={`/cards/compare/${newest.fingerprint}`}>
                    Compare the newest with the one before
                  </PageLink>
                )}
              </div>
              <ListTable
                name="Cards made"
                rows={rows}
                keyOf={({ fingerprint }) => fingerprint}
                columns={COLUMNS}
                none="No card was made for this build yet."
              />
            </>
          )
        }}
      </WhenLoaded>
    </section>
  )
}
