/** A strict little reader of markup: SVG whole, and the HTML that closes all its tags but the void ones. */

export interface Element {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly (Element | string)[];
}

const token =
  /<!doctype html>|<(\/?)([a-z][a-z0-9]*)((?:\s+[A-Za-z-]+="[^"<]*")*)\s*(\/?)>|([^<]+)/giy;
const voidTags = new Set(['meta']);

/** Throws where a tag is not closed in its order, an attribute not quoted, or a < or & stands bare. */
export function readMarkup(markup: string): Element {
  const root = { name: '', attributes: {}, children: [] as (Element | string)[] };
  const open = [root];
  token.lastIndex = 0;
  for (let at = 0; at < markup.length; at = token.lastIndex) {
    const found = token.exec(markup);
    if (found === null) throw new Error(`no markup: ${markup.slice(at, at + 60)}`);
    const [, closing, name, attributes, selfClosing, text] = found;
    const parent = open.at(-1)!;
    if (text !== undefined) parent.children.push(plain(text));
    if (name === undefined) continue;
    if (closing === '/') {
      if (parent.name !== name) throw new Error(`</${name}> closes <${parent.name}>`);
      open.pop();
    } else {
      const element = { name, attributes: attributesOf(attributes!), children: [] };
      parent.children.push(element);
      if (selfClosing !== '/' && !voidTags.has(name)) open.push(element);
    }
  }
  if (open.length > 1) throw new Error(`<${open.at(-1)!.name}> is not closed`);
  return root;
}

function attributesOf(text: string): Record<string, string> {
  const pairs = [...text.matchAll(/([A-Za-z-]+)="([^"]*)"/g)];
  const names = pairs.map(([, name]) => name!);
  if (new Set(names).size < names.length) throw new Error(`an attribute twice:${text}`);
  return Object.fromEntries(pairs.map(([, name, value]) => [name!, plain(value!)]));
}

const entities: Readonly<Record<string, string>> = {
  amp: '&',
  lt: '<',
  gt: '>',
  quot: '"',
  '#39': "'",
};

function plain(text: string): string {
  return text.replaceAll(/&([^;]*;)?/g, (reference, name?: string) => {
    const meant = entities[name?.slice(0, -1) ?? ''];
    if (meant === undefined) throw new Error(`no reference: ${reference}`);
    return meant;
  });
}

/** All elements below, in the order of the text. */
export function elementsIn(element: Element): Element[] {
  return element.children.flatMap((child) =>
    typeof child === 'string' ? [] : [child, ...elementsIn(child)],
  );
}

export function childrenNamed(element: Element, name: string): Element[] {
  return element.children.filter(
    (child) => typeof child !== 'string' && child.name === name,
  ) as Element[];
}

export function textOf(element: Element): string {
  return element.children
    .map((child) => (typeof child === 'string' ? child : textOf(child)))
    .join('');
}

/** Rows of the tables of a page, cell by cell. */
export function tableRows(html: string): string[][] {
  return elementsIn(readMarkup(html))
    .filter(({ name }) => name === 'tr')
    .map((row) =>
      elementsIn(row)
        .filter(({ name }) => name === 'td' || name === 'th')
        .map(textOf),
    );
}
