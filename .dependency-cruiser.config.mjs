// Which part may import which. A rule's comment says what to do instead.
// `npm run check` also fails if fewer modules are cruised than there are files, since a cruiser
// that cannot read TypeScript guards nothing; tests/unit/layers breaks each rule once.

const npm = (...names) => `node_modules/(${names.map((name) => name.replace('/', '\\/')).join('|')})(/|$)`

/** Files of `from` may reach only `to` (and themselves); npm packages are governed by belongsTo. */
function mayReach(name, from, to, comment, { typesToo = true } = {}) {
  return {
    name,
    comment,
    severity: 'error',
    from: { path: from },
    to: {
      path: '^(app|main|renderer|tests)/',
      pathNot: [from, ...to],
      ...(typesToo ? {} : { dependencyTypesNot: ['type-only'] }),
    },
  }
}

/** These packages are imported only below `home`. */
function belongsTo(name, packages, home, comment) {
  return { name, comment, severity: 'error', from: { pathNot: home }, to: { path: packages } }
}

export default {
  forbidden: [
    mayReach('model-is-alone', '^app/model/', [], 'Plain types know nothing; move logic up.'),
    mayReach('errors-are-alone', '^app/errors/', [], 'Errors know nothing of what went wrong elsewhere.'),
    mayReach(
      'ports-are-interfaces',
      '^app/ports/',
      ['^app/(model|errors)/'],
      'Describe what is needed in the words of the model.',
    ),
    mayReach(
      'contract-is-shapes',
      '^app/contract/',
      ['^app/(model|errors|ports)/'],
      'The contract describes; use cases do.',
    ),
    mayReach('audio-is-pure', '^app/audio/', ['^app/(model|errors|ports)/'], 'Take data as an argument.'),
    mayReach('boards-are-pure', '^app/boards/', ['^app/(model|errors|ports)/'], 'Take data as an argument.'),
    mayReach('cards-are-pure', '^app/cards/', ['^app/(model|errors|ports)/'], 'Take data as an argument.'),
    mayReach(
      'records-are-pure',
      '^app/records/',
      ['^app/(model|errors|ports)/'],
      'Take data as an argument.',
    ),
    mayReach(
      'rescue-sees-cards-and-audio',
      '^app/rescue/',
      ['^app/(model|errors|ports|cards|audio)/'],
      'Take data as an argument.',
    ),
    mayReach(
      'use-cases-look-down',
      '^app/usecases/',
      ['^app/'],
      'A use case gets what touches the machine through a port.',
    ),
    mayReach(
      'renderer-sees-the-contract',
      '^renderer/',
      ['^app/(contract|model|errors)/'],
      'Ask through renderer/client.',
    ),
    mayReach(
      'adapters-know-no-door',
      '^main/(adapters|workers)/',
      ['^app/', '^main/(adapters|workers)/'],
      'Doors call the core, never the other way.',
    ),
    {
      name: 'main-leaves-the-window-alone',
      comment: 'The doors serve the built window; they never import its source.',
      severity: 'error',
      from: { path: '^main/' },
      to: { path: '^(renderer|tests)/' },
    },
    {
      name: 'no-cycles',
      comment: 'Pull what both need into a file of its own.',
      severity: 'error',
      from: { path: '^(app|main|renderer)/' },
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    },
    {
      name: 'app-takes-no-packages',
      comment: 'Only zod and yaml may be imported in app; put the rest behind a port.',
      severity: 'error',
      from: { path: '^app/' },
      to: { path: 'node_modules/', pathNot: npm('zod', 'yaml') },
    },
    {
      name: 'app-knows-no-node',
      comment: 'The core is pure; ask for what you need through app/ports.',
      severity: 'error',
      from: { path: '^app/' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'renderer-knows-no-node',
      comment: 'The window runs in a browser; ask through renderer/client.',
      severity: 'error',
      from: { path: '^renderer/' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'only-the-client-talks-to-a-door',
      comment: 'Views and elements ask a hook; hooks ask renderer/client.',
      severity: 'error',
      from: { path: '^renderer/(views|elements)/' },
      to: { path: '^renderer/client/', dependencyTypesNot: ['type-only'] },
    },
    belongsTo(
      'sql-stays-in-db',
      npm('kysely', 'better-sqlite3'),
      '^(main/adapters/db|tests)/',
      'Go through a repository.',
    ),
    belongsTo(
      'media-libraries-stay-in-media',
      npm('fluent-ffmpeg', 'music-metadata', 'wavefile', '@ffmpeg-installer'),
      '^(main/adapters/media|tests)/',
      'Go through main/adapters/media.',
    ),
    belongsTo(
      'electron-stays-in-desktop',
      npm('electron'),
      '^(main/desktop|tests)/',
      'Only the desktop door knows Electron.',
    ),
    belongsTo(
      'react-stays-in-renderer',
      npm('react', 'react-dom', '@mantine', '@tanstack', '@atlaskit', 'wouter'),
      '^(renderer|tests)/',
      'Views live in renderer.',
    ),
    belongsTo(
      'server-stays-in-loopback',
      npm('fastify', '@fastify'),
      '^(main/loopback|tests)/',
      'Only the loopback door serves HTTP.',
    ),
    belongsTo(
      'licence-library-stays-in-documents',
      npm('@cyclonedx'),
      '^(main/adapters/documents|tests)/',
      'Go through main/adapters/documents.',
    ),
    belongsTo(
      'archives-stay-in-files',
      npm('@zip\\.js'),
      '^(main/adapters/files|tests)/',
      'Go through main/adapters/files.',
    ),
    belongsTo(
      'drive-lists-stay-in-drives',
      npm('systeminformation'),
      '^(main/adapters/drives|tests)/',
      'Go through main/adapters/drives.',
    ),
    belongsTo(
      'tables-and-flags-stay-in-cli',
      npm('commander', 'cli-table3'),
      '^(main/cli|tests)/',
      'Only the command line speaks in flags and tables.',
    ),
    {
      name: 'tests-are-leaves',
      comment: 'What the product needs too belongs in the product.',
      severity: 'error',
      from: { path: '^(app|main|renderer)/' },
      to: { path: '^tests/' },
    },
    {
      name: 'nothing-unresolvable',
      comment: 'Install it, or mend the path.',
      severity: 'error',
      from: {},
      to: { couldNotResolve: true, pathNot: '^(electron|virtual:)' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: ['^app/audio/kernel/assembly/', '^out/', '^node_modules/(?!.*)'] },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: '.tsconfig.strict.json' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'node', 'default', 'types'],
      extensions: ['.ts', '.tsx', '.mjs', '.js', '.json', '.d.ts'],
    },
  },
}
