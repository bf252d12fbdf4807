import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type File, importsOf, reachable, readFiles, topLevel } from './files.ts';
import {
  answeringRule,
  circlesIn,
  classesOf,
  exemptionRule,
  hookRule,
  importRule,
  impurityRule,
  leftoverRule,
  nameRule,
  ROOM_ORDER,
  type Rule,
  requestKeyRule,
  scriptRule,
  sizeRule,
  sqlRule,
  templateRule,
} from './rules.ts';

const files = readFiles();
const file = (path: string, text: string): File => ({ path, text });
// Joined here, so that this file does not break the rules it tests.
const joined = (...parts: string[]) => parts.join('');

describe('what the rules read', () => {
  it.each([
    ['src/', '.ts', 15],
    ['server/', '.ts', 30],
    ['views/', '.eta', 20],
    ['views/', '.css', 9],
    ['migrations/', '.sql', 5],
    ['tests/', '.test.ts', 20],
  ])('is all of %s*%s, at least %i files', (folder, kind, least) => {
    expect(
      files.filter(({ path }) => path.startsWith(folder) && path.endsWith(kind)).length,
    ).toBeGreaterThanOrEqual(least);
  });

  it('has its imports found', () => {
    expect(files.flatMap(importsOf).length).toBeGreaterThanOrEqual(200);
    const text = joined(
      "import a from './a.ts';\nimport {\n  b,\n} from 'b';\nimport './c.ts';\nexport * from './d.ts';\nconst e = await import('./e.ts');",
    );
    expect(importsOf(file('src/x.ts', text))).toEqual(['./a.ts', 'b', './c.ts', './d.ts', './e.ts']);
  });
});

const EXPORTED = /^export (?:async )?(?:function\*?|const|interface|type|class) (\w+)/gm;

const rules: [string, Rule, File[]][] = [
  ['no file is longer than 400 lines without a reason', sizeRule, [file('src/long.ts', 'x\n'.repeat(401))]],
  [
    'imports go one way',
    importRule,
    [
      file('src/length.ts', "import { x } from '../server/web/page.ts';"),
      file('src/length.ts', "import { readFileSync } from 'node:fs';"),
      file('src/length.ts', "import { Kysely } from 'kysely';"),
      file('server/short/queries.ts', "import { x } from '../orders/routes.ts';"),
      file('server/short/queries.ts', "import { x } from '../orders/supplier/routes.ts';"),
      file('server/short/queries.ts', "import { x } from '../shelf/receipt-routes.ts';"),
      file('server/shelf/queries.ts', "import { x } from '../short/queries.ts';"),
      file('server/shelf/queries.ts', "import { x } from '../attic/queries.ts';"),
      file('server/attic/queries.ts', "import { x } from '../shelf/queries.ts';"),
      file('server/shelf/queries.ts', "import { x } from '../app.ts';"),
      file('server/shelf/queries.ts', "import { x } from '../../seed-demo/seed.ts';"),
      file('server/shelf/queries.ts', "import { x } from '../../tests/server/support.ts';"),
      file('server/database/book.ts', "import { x } from '../web/page.ts';"),
      file('server/web/page.ts', "import { x } from '../shelf/queries.ts';"),
      file('server/ledger/verbs.ts', "import { x } from '../shelf/queries.ts';"),
      file('server/kit/words.ts', "import { x } from '../web/page.ts';"),
      file('server/refusal.ts', "import { x } from './shelf/queries.ts';"),
      file('server/app.ts', "import { x } from '../seed-demo/seed.ts';"),
      file('seed-demo/seed.ts', "import { x } from '../server/main.ts';"),
      file('views/assets/clothroom.js', "import './more.js';"),
    ],
  ],
  [
    'clock, chance and environment come in as arguments',
    impurityRule,
    [
      file('src/a.ts', 'const at = new Date();'),
      file('server/web/a.ts', 'process.env.HOME'),
      file('src/b.ts', 'Math.random()'),
    ],
  ],
  [
    'an exemption from a lint rule gives its reason',
    exemptionRule,
    [
      file('src/a.ts', joined('// biome-', 'ignore lint/suspicious/noExplicitAny')),
      file('src/a.ts', joined('// biome-', 'ignore lint/suspicious/noExplicitAny: no')),
      file('src/a.ts', joined('// @ts-', 'expect-error the types are wrong')),
    ],
  ],
  [
    'nothing is left for later',
    leftoverRule,
    [
      file('src/a.ts', joined('// TO', 'DO round')),
      file('tests/a.test.ts', joined('it.on', "ly('x', () => {})")),
      file('tests/a.test.ts', joined('describe.sk', "ip('x', f)")),
    ],
  ],
  [
    'a helper of tests clears up after every file',
    hookRule,
    [file('tests/faults/door.ts', 'afterEach(() => {});'), file('tests/a.ts', 'const a = 1;\nbeforeAll(f);')],
  ],
  [
    'a file is not named like its folder',
    nameRule,
    [
      file('server/orders/offer/offers.ts', ''),
      file('src/fit/fit.ts', ''),
      file('server/shelf/places/place.ts', ''),
    ],
  ],
  [
    'rooms answer through one module',
    answeringRule,
    [
      file('server/shelf/routes.ts', 'const asker = whoAsks(house, request);'),
      file('server/shelf/routes.ts', 'return handlePost(house, request, reply, form);'),
    ],
  ],
  ['SQL has its values bound', sqlRule, [file('server/shelf/a.ts', joined('sql.ra', 'w(typed)'))]],
  [
    'a template escapes, quotes and keeps to the content security policy',
    templateRule,
    [
      file('views/a.eta', '<p><%~ it.note %></p>'),
      file('views/a.eta', '<p><%-~ it.bodyOfText %></p>'),
      file('views/a.eta', '<input value=<%= it.note %>>'),
      file('views/a.eta', "<%~ include('partials/key', {}) %>"),
      file('views/a.eta', '<% (it.rows ?? []).forEach((row) => { %>'),
      file('views/a.eta', '<p style="color: red">'),
      file('views/a.eta', '<style>p{}</style>'),
      file('views/a.eta', '<script>go()</script>'),
      file('views/a.eta', '<button onclick="go()">'),
      file('views/a.eta', '<a hx-on:click="go()">'),
      file('views/a.eta', '<a href="javascript:go()">'),
      file('views/a.eta', `<a hx-vals="js:{a: go()}">`),
      file('views/a.eta', '<a hx-trigger="click[ctrlKey]">'),
      file('views/a.eta', '<script src="https://elsewhere.example/a.js"></script>'),
      file('views/a.eta', '<a href="//elsewhere.example">'),
    ],
  ],
  [
    'a form that writes has a request key',
    requestKeyRule,
    [file('views/a.eta', '<form method="post" action="/cuts"><button>Cut</button></form>')],
  ],
  [
    'a script needs no eval and writes no HTML',
    scriptRule,
    [file('views/assets/a.js', "box.innerHTML = '<b>'"), file('views/assets/a.js', "eval('1')")],
  ],
];

describe.each(rules)('%s', (_, rule, broken) => {
  it('everywhere', () => {
    expect(files.flatMap(rule)).toEqual([]);
  });

  it('and each breach of it is found', () => {
    expect(broken.filter((bad) => rule(bad).length === 0)).toEqual([]);
  });
});

describe('rooms and files', () => {
  it('stand on each other in one order, which names every room', () => {
    const rooms = new Set(files.flatMap(({ path }) => /^server\/([a-z-]+)\//.exec(path)?.slice(1) ?? []));
    expect([...rooms].sort()).toEqual([...ROOM_ORDER].sort());
    // Whoever looks for a room's place reads it in the output of the tests.
    process.stdout.write(`The rooms, each on those before it: ${ROOM_ORDER.join(', ')}\n`);
  });

  it('give an exported name one meaning', () => {
    const named = new Map<string, string[]>();
    for (const { path, text } of files.filter(({ path: of }) => /^(src|server)\/.*\.ts$/.test(of)))
      for (const [, name = ''] of text.matchAll(EXPORTED))
        named.set(name, [...(named.get(name) ?? []), path]);
    expect(named.size).toBeGreaterThanOrEqual(1000);
    expect([...named].filter(([, paths]) => paths.length > 1)).toEqual([]);
  });

  it('import each other in no circle', () => {
    const sources = files.filter(({ path }) => /^(src|server|seed-demo)\/.*\.ts$/.test(path));
    expect(sources.length).toBeGreaterThanOrEqual(400);
    expect(circlesIn(sources)).toEqual([]);
    const ring = [
      file('src/a.ts', "import './b.ts';"),
      file('src/b.ts', "import './c.ts';"),
      file('src/c.ts', "import type { A } from './a.ts';"),
    ];
    expect(circlesIn(ring)).toEqual([['src/a.ts', 'src/b.ts', 'src/c.ts']]);
  });
});

describe('what a rule allows', () => {
  it.each([
    file('src/long.ts', `// Long because its table is one\n${'x\n'.repeat(401)}`),
    file('src/length.ts', "import { x } from './measure.ts';\nimport { z } from 'zod';"),
    file(
      'server/short/queries.ts',
      "import { x } from '../shelf/queries.ts';\nimport { y } from '../../src/garment/need.ts';\nimport { z } from '../refusal.ts';",
    ),
    file(
      'server/shelf/piece-routes.ts',
      "import { x } from '../ledger/verbs.ts';\nimport { y } from '../web/post.ts';\nimport { z } from './routes.ts';",
    ),
    file(
      'server/main.ts',
      "import { seedDemo } from '../seed-demo/seed.ts';\nconst clock = () => new Date();",
    ),
    file('tests/b.test.ts', 'afterEach(() => {});'),
    file('tests/b.ts', 'export function begin() {\n  afterEach(() => {});\n}'),
    file(
      'tests/a.test.ts',
      joined('// biome-', 'ignore lint/suspicious/noExplicitAny: the library types it so'),
    ),
    file(
      'views/a.eta',
      `<% /* style="x" */ const on = 1; %><script src="/a.js" defer></script><input value="<%= it.note %>"><%~ include('/partials/key', {}) %>`,
    ),
    file(
      'views/a.eta',
      `<form method="post"><%~ include('/partials/key', { key: it.requestKey }) %></form><form method="get"></form>`,
    ),
  ])('is let through ($path)', (good) => {
    expect(rules.flatMap(([, rule]) => rule(good))).toEqual([]);
  });
});

describe('no file is dead', () => {
  const isRoot = (path: string) =>
    path === 'server/main.ts' ||
    // The first start runs it as a program of its own.
    path === 'server/make-bundle.ts' ||
    // A child is run as a program of its own by the test beside it.
    /^tests\/.*\.(test|bench|child|d)\.ts$/.test(path) ||
    path === 'tests/vitest.config.ts' ||
    // "npm run faults" names it.
    path === 'tests/faults/run.ts' ||
    // The configuration names it: it runs before every test file.
    path === 'tests/each-file.ts';

  it('among the modules: each is reached from the program or a test', () => {
    const modules = files.filter(({ path }) => path.endsWith('.ts'));
    const alive = reachable(files, modules.map(({ path }) => path).filter(isRoot));
    expect(alive.size).toBeGreaterThanOrEqual(80);
    expect(modules.map(({ path }) => path).filter((path) => !alive.has(path))).toEqual([]);
  });

  it('among the modules, and an orphan is found', () => {
    const three = [
      file('server/main.ts', "import './app.ts';"),
      file('server/app.ts', ''),
      file('src/orphan.ts', ''),
    ];
    expect([...reachable(three, ['server/main.ts'])].sort()).toEqual(['server/app.ts', 'server/main.ts']);
  });

  it('among the templates: each is drawn by name somewhere', () => {
    const views = files.filter(({ path }) => path.endsWith('.eta'));
    const named = (view: string, by: File) => new RegExp(`['"\`]/?${view}['"\`]`).test(by.text);
    const unused = views.filter(({ path }) => {
      const view = path.replace(/^views\/|\.eta$/g, '');
      return !files.some((by) => by.path !== path && !by.path.startsWith('tests/') && named(view, by));
    });
    expect(unused.map(({ path }) => path)).toEqual([]);
  });

  it('among the stylesheets and scripts: each is served', () => {
    const assets = files.find(({ path }) => path === 'server/web/assets.ts')?.text ?? '';
    const names = files
      .filter(({ path }) => path.startsWith('views/assets/'))
      .map(({ path }) => path.replace('views/assets/', ''));
    expect(names.filter((name) => !assets.includes(`'${name.replace(/\.css$/, '')}'`))).toEqual([]);
  });
});

describe('a class that a template names', () => {
  const css = files.filter(({ path }) => path.endsWith('.css')).map(({ text }) => text);
  const styled = new Set(
    css.flatMap((text) => [...text.matchAll(/\.([a-z][\w-]*)/g)].map(([, name]) => name)),
  );

  it('has a style', () => {
    const views = files.filter(({ path }) => path.endsWith('.eta'));
    expect(views.flatMap(classesOf).length).toBeGreaterThanOrEqual(100);
    const bare = views.flatMap((view) => classesOf(view).map((name) => `${view.path} ${name}`));
    expect(bare.filter((line) => !styled.has(line.split(' ')[1]))).toEqual([]);
  });

  it('is found among put-together ones', () => {
    const text = '<p class="slip slip-<%= it.kind %> next"><b class="code">';
    expect(classesOf(file('views/a.eta', text))).toEqual(['slip', 'next', 'code']);
  });
});

describe('the guide', () => {
  it('names only files that are there, from the top of the repository or from server or src', () => {
    const guide = readFileSync(new URL('../../DEVELOPERS.md', import.meta.url), 'utf8');
    const named = [...guide.matchAll(/`([\w-]+\/[\w./-]+\.\w+)`/g)].flatMap(([, path]) => path ?? []);
    const isThere = (path: string) =>
      ['', 'server/', 'src/'].some((top) => existsSync(new URL(`../../${top}${path}`, import.meta.url)));
    expect(named.length).toBeGreaterThan(60);
    expect(named.filter((path) => !isThere(path))).toEqual([]);
  });
});

describe('the top of the repository', () => {
  it('holds what the guide lists and nothing else', () => {
    expect(topLevel()).toEqual([
      'DEVELOPERS.md',
      'LICENSE',
      'README.md',
      'migrations',
      'package-lock.json',
      'package.json',
      'seed-demo',
      'server',
      'src',
      'tests',
      'tsconfig.json',
      'views',
    ]);
  });
});
