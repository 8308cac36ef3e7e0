import { Redirect, Route, Switch } from 'wouter'
import { BoardPage } from '../boards/board-page.tsx'
import { BoardsPage } from '../boards/boards-page.tsx'
import { CheckCardPage } from '../boards/check-card-page.tsx'
import { CompareBoardsPage } from '../boards/compare-boards-page.tsx'
import { DraftBoardPage } from '../boards/draft-board-page.tsx'
import { KeptBoardPage } from '../boards/kept-board-page.tsx'
import { LearnPage } from '../boards/learn-page.tsx'
import { NewBoardPage } from '../boards/new-board-page.tsx'
import { BuildPage } from '../builds/build-page.tsx'
import { BuildsPage } from '../builds/builds-page.tsx'
import { CreatorPage } from '../builds/creator-page.tsx'
import { CreatorsPage } from '../builds/creators-page.tsx'
import { LicencePage } from '../builds/licence-page.tsx'
import { LicencesPage } from '../builds/licences-page.tsx'
import { CardsPage } from '../cards/cards-page.tsx'
import { ComparePage } from '../cards/compare-page.tsx'
import { ContentPage } from '../cards/content-page.tsx'
import { MakePage } from '../cards/make-page.tsx'
import { RemakePage } from '../cards/remake-page.tsx'
import { VerifyPage } from '../cards/verify-page.tsx'
import { FontPage } from '../fonts/font-page.tsx'
import { FontsPage } from '../fonts/fonts-page.tsx'
import { RootsPage } from '../fonts/roots-page.tsx'
import { SoundPage } from '../fonts/sound-page.tsx'
import { PrepareBuildPage, PrepareCardPage, PrepareFontPage } from '../prepare/prepare-page.tsx'
import { WorkshopPage } from '../workshop/workshop-page.tsx'

/** Every page by its address. */
export function Pages() {
  return (
    <Switch>
      <Route path="/fonts" component={FontsPage} />
      <Route path="/fonts/places" component={RootsPage} />
      <Route path="/fonts/prepare/card" component={PrepareCardPage} />
      <Route path="/fonts/prepare/font/:editionId">
        {({ editionId }) => <PrepareFontPage key={editionId} editionId={editionId} />}
      </Route>
      <Route path="/fonts/prepare/build/:id">{({ id }) => <PrepareBuildPage key={id} id={id} />}</Route>
      <Route path="/fonts/:editionId/sounds/:soundId/for/:boardId">
        {({ editionId, soundId, boardId }) => (
          <SoundPage key={soundId} editionId={editionId} soundId={soundId} forBoardId={boardId} />
        )}
      </Route>
      <Route path="/fonts/:editionId/sounds/:soundId">
        {({ editionId, soundId }) => <SoundPage key={soundId} editionId={editionId} soundId={soundId} />}
      </Route>
      <Route path="/fonts/:editionId">
        {({ editionId }) => <FontPage key={editionId} editionId={editionId} />}
      </Route>
      <Route path="/boards" component={BoardsPage} />
      <Route path="/boards/make/draft" component={DraftBoardPage} />
      <Route path="/boards/make/new">
        <NewBoardPage parentId={null} />
      </Route>
      <Route path="/boards/make/from/:parentId">
        {({ parentId }) => <NewBoardPage key={parentId} parentId={parentId} />}
      </Route>
      <Route path="/boards/check/card" component={CheckCardPage} />
      <Route path="/boards/learn/:boardId">
        {({ boardId }) => <LearnPage key={boardId} boardId={boardId} />}
      </Route>
      <Route path="/boards/as-it-was/:hash">{({ hash }) => <KeptBoardPage key={hash} hash={hash} />}</Route>
      <Route path="/boards/compare/two">
        <CompareBoardsPage boardId={null} />
      </Route>
      <Route path="/boards/compare/with/:boardId">
        {({ boardId }) => <CompareBoardsPage key={boardId} boardId={boardId} />}
      </Route>
      <Route path="/boards/:boardId">{({ boardId }) => <BoardPage key={boardId} boardId={boardId} />}</Route>
      <Route path="/builds" component={BuildsPage} />
      <Route path="/builds/licences" component={LicencesPage} />
      <Route path="/builds/licences/:id">{({ id }) => <LicencePage key={id} id={id} />}</Route>
      <Route path="/builds/creators" component={CreatorsPage} />
      <Route path="/builds/creators/:id">{({ id }) => <CreatorPage key={id} id={id} />}</Route>
      <Route path="/builds/:id">{({ id }) => <BuildPage key={id} id={id} />}</Route>
      <Route path="/cards" component={CardsPage} />
      <Route path="/cards/make" component={MakePage} />
      <Route path="/cards/contents/:fingerprint">
        {({ fingerprint }) => <ContentPage key={fingerprint} fingerprint={fingerprint} />}
      </Route>
      <Route path="/cards/remake/:fingerprint">
        {({ fingerprint }) => <RemakePage key={fingerprint} fingerprint={fingerprint} />}
      </Route>
      <Route path="/cards/compare">
        <ComparePage />
      </Route>
      <Route path="/cards/compare/:fingerprint">
        {({ fingerprint }) => <ComparePage key={fingerprint} fingerprint={fingerprint} />}
      </Route>
      <Route path="/cards/verify">
        <VerifyPage />
      </Route>
      <Route path="/cards/verify/:fingerprint">
        {({ fingerprint }) => <VerifyPage key={fingerprint} fingerprint={fingerprint} />}
      </Route>
      <Route path="/workshop" component={WorkshopPage} />
      <Route>
        <Redirect to="/fonts" />
      </Route>
    </Switch>
  )
}
