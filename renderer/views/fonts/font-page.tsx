import { Tabs } from '@mantine/core'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { inUnits } from '../../../app/model/in-units.ts'
import { FindingsList } from '../../elements/findings-list.tsx'
import { counted, fontInWords } from '../../elements/in-words.ts'
import { Note } from '../../elements/note.tsx'
import { PageHead } from '../../elements/page-head.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { VerdictMark } from '../../elements/verdict-mark.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { useChosenBoard } from '../../hooks/use-chosen-board.tsx'
import { useKept } from '../../hooks/use-kept.ts'
import { FontCardNames } from './font-card-names.tsx'
import { FontFiles } from './font-files.tsx'
import { FontForm } from './font-form.tsx'
import { FontLicences } from './font-licences.tsx'
import { FontOriginals } from './font-originals.tsx'
import { FontRoles } from './font-roles.tsx'
import { PageForCreator } from './page-for-creator.tsx'
import { SoundsTable } from './sounds-table.tsx'

/** One font: what was found, its sounds with their facts, its files, its licences. */
export function FontPage({ editionId }: { readonly editionId: string }) {
  const { boardId } = useChosenBoard()
  const font = useAsk('fonts:show', boardId === undefined ? null : { editionId, boardId })
  return (
    <WhenLoaded loaded={font} what="the font">
      {(shown) => <ShownFont shown={shown} />}
    </WhenLoaded>
  )
}

function ShownFont({ shown }: { readonly shown: ResponseOf<'fonts:show'> }) {
  const { edition, findings, licences, verdict, preparedVerdict } = shown
  // Back from a sound, the sounds are open.
  const [tab, setTab] = useKept<string | null>(
    `cardwright-font-tab ${edition.id}`,
    findings.length > 0 ? 'findings' : 'sounds',
  )
  const creator = edition.font.creatorName ?? edition.font.proposedCreatorName
  const facts = [
    creator === null ? 'creator not known' : `by ${creator}`,
    counted(edition.soundCount, 'sound'),
    inUnits(edition.sizeBytes),
    edition.schemeId === null ? 'roles not known' : `named by ${edition.schemeId}`,
  ]
  return (
    <div className="page-stack">
      <PageHead title={fontInWords(edition.font.name, edition.version)} about={facts.join(' · ')}>
        {verdict !== null && (
          <div>
            <VerdictMark verdict={verdict} prepared={preparedVerdict} />
          </div>
        )}
        {edition.state === 'present' && (
          <PageLink to={`/fonts/prepare/font/${edition.id}`}>Prepare it for a board</PageLink>
        )}
      </PageHead>
      {edition.state === 'gone' && (
        <Note tone="care" title="This font is gone from its place">
          The last scan did not find its files. Its records stay; scan the place where it lies now.
        </Note>
      )}
      <Tabs value={tab} onChange={setTab} keepMounted={false}>
        <Tabs.List>
          <Tabs.Tab value="findings">Findings ({findings.length})</Tabs.Tab>
          <Tabs.Tab value="sounds">Sounds ({edition.soundCount})</Tabs.Tab>
          <Tabs.Tab value="roles">Roles</Tabs.Tab>
          <Tabs.Tab value="card-names">Names on the card</Tabs.Tab>
          <Tabs.Tab value="licences">Licences ({licences.length})</Tabs.Tab>
          <Tabs.Tab value="files">Places and files</Tabs.Tab>
          <Tabs.Tab value="names">Name and creator</Tabs.Tab>
        </Tabs.List>
        <Tabs.Panel value="findings" pt="md" className="sheet-stack">
          {shown.board !== null && (
            <details>
              <summary>A page for its creator</summary>
              <PageForCreator
                key={shown.board}
                editionId={edition.id}
                font={fontInWords(edition.font.name, edition.version)}
                boardId={shown.board}
              />
            </details>
          )}
          <div className="sheet sheet-stack">
            {findings.length === 0 ? (
              <p>Nothing was found: this font plays on the board as it is.</p>
            ) : (
              <>
                {preparedVerdict !== null && (
                  <p className="quiet">
                    Found in the originals. A card for this board gets what was prepared of them.
                  </p>
                )}
                <FindingsList findings={findings} />
              </>
            )}
          </div>
        </Tabs.Panel>
        <Tabs.Panel value="sounds" pt="md">
          <SoundsTable sounds={edition.sounds} findings={findings} />
        </Tabs.Panel>
        <Tabs.Panel value="roles" pt="md">
          <FontRoles editionId={edition.id} />
        </Tabs.Panel>
        <Tabs.Panel value="card-names" pt="md">
          <FontCardNames editionId={edition.id} />
        </Tabs.Panel>
        <Tabs.Panel value="licences" pt="md">
          <FontLicences fontId={edition.font.id} licences={licences} />
        </Tabs.Panel>
        <Tabs.Panel value="files" pt="md">
          <div className="sheet-stack">
            <FontFiles edition={edition} />
            <FontOriginals editionId={edition.id} />
          </div>
        </Tabs.Panel>
        <Tabs.Panel value="names" pt="md">
          <FontForm edition={edition} />
        </Tabs.Panel>
      </Tabs>
    </div>
  )
}
