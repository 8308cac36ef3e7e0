import { Fragment } from 'react'
import { Link } from 'wouter'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { inUnits } from '../../../app/model/in-units.ts'
import { momentInWords } from '../../elements/in-words.ts'
import { PageHead } from '../../elements/page-head.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { valueOr } from '../../hooks/loaded.ts'
import { useAsk } from '../../hooks/use-ask.ts'
import { CardsPlaces } from './cards-places.tsx'
import { ContentChanges } from './content-changes.tsx'
import { ContentFonts } from './content-fonts.tsx'
import { ContentStrip } from './content-strip.tsx'

export type ShownContent = ResponseOf<'contents:show'>

/** Everything on record of one content: what was made, when and why so, and how to have it again. */
export function ContentPage({ fingerprint }: { readonly fingerprint: string }) {
  const shown = useAsk('contents:show', { content: fingerprint })
  return (
    <div className="page-stack">
      <CardsPlaces />
      <WhenLoaded loaded={shown} what="the content">
        {(content) => (
          <>
            <PageHead title={`Content ${content.fingerprint}`} about={<Origin content={content} />}>
              <PageLink to={`/cards/compare/${content.fingerprint}`}>Compare</PageLink>
              <PageLink to={`/cards/verify/${content.fingerprint}`}>Verify a card against it</PageLink>
              <PageLink to={`/cards/remake/${content.fingerprint}`} isMain>
                Remake
              </PageLink>
            </PageHead>
            <ContentStrip content={content} />
            <ContentFonts content={content} />
            <ContentChanges content={content} />
            <Facts content={content} />
          </>
        )}
      </WhenLoaded>
    </div>
  )
}

function Origin({ content }: { readonly content: ShownContent }) {
  const builds = valueOr(useAsk('builds:list', {}), undefined)?.builds
  return (
    <>
      Made {momentInWords(content.createdAt)}
      {content.builds.map((code, index) => {
        const build = builds?.find((each) => each.code === code)
        return (
          <Fragment key={code}>
            {index === 0 ? ' for build ' : ' and '}
            {build === undefined ? code : <Link href={`/builds/${build.id}`}>{code}</Link>}
          </Fragment>
        )
      })}
      , for the board <Link href={`/boards/${content.board}`}>{content.board}</Link>
    </>
  )
}

function Facts({ content }: { readonly content: ShownContent }) {
  return (
    <section className="sheet sheet-stack" aria-label="How it was made">
      <h2>How it was made</h2>
      <dl className="facts">
        <dt>Fingerprint</dt>
        <dd className="mono">{content.fingerprint}</dd>
        <dt>Image</dt>
        <dd>
          {inUnits(content.imageBytes)}, {content.fileSystem.toUpperCase()} with clusters of{' '}
          {inUnits(content.clusterBytes)}
        </dd>
        <dt>Used</dt>
        <dd>{content.usedBytes.toLocaleString('en')} bytes</dd>
        <dt>Free</dt>
        <dd>{content.freeBytes.toLocaleString('en')} bytes</dd>
        <dt>Image hash</dt>
        <dd className="mono">{content.imageHash}</dd>
        <dt>Board as it was</dt>
        <dd className="mono break">
          <Link href={`/boards/as-it-was/${content.boardHash}`}>{content.boardHash}</Link>
        </dd>
        <dt>Cardwright</dt>
        <dd>{content.toolVersion}</dd>
      </dl>
    </section>
  )
}
