import type { PaperBlock, Card, Paper, PaperTable } from './document.ts';
import { cardRows } from './document.ts';
import { paperStyle } from './paper-style.ts';
import { escapeXml } from '../svg/svg.ts';

/**
 * A paper as one HTML file that needs no other files. Printed, every sheet has the foot of the paper and
 * its number.
 */
export function paperHtml({ title, subtitle, foot, again, blocks }: Paper): string {
  return [
    '<!doctype html>',
    '<html lang="en"><head><meta charset="utf-8">',
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    `<title>${escapeXml(title)}</title><style>${paperStyle(foot, again)}</style></head><body>`,
    `<header><h1>${escapeXml(title)}</h1><p>${escapeXml(subtitle)}</p></header>`,
    blocksHtml(blocks),
    `<footer><p>${escapeXml(foot)}</p></footer>`,
    '</body></html>\n',
  ].join('\n');
}

function blocksHtml(blocks: readonly PaperBlock[]): string {
  return blocks.map(blockHtml).join('\n');
}

function blockHtml(block: PaperBlock): string {
  switch (block.kind) {
    case 'heading':
      return `<h${block.level}>${escapeXml(block.text)}</h${block.level}>`;
    case 'text':
      return `<p${block.soft ? ' class="soft"' : ''}>${escapeXml(block.text)}</p>`;
    case 'shout':
      return `<p class="shout"><strong>${escapeXml(block.words)}</strong> ${escapeXml(block.text)}</p>`;
    case 'facts': {
      const rows = block.rows.map(
        ([name, value]) => `<div><dt>${escapeXml(name)}</dt><dd>${escapeXml(value)}</dd></div>`,
      );
      return `<dl>${rows.join('\n')}</dl>`;
    }
    case 'table':
      return tableHtml(block);
    case 'list': {
      const items = block.items.map((item) => `<li>${escapeXml(item)}</li>`).join('\n');
      const style = block.columns === undefined ? '' : ` class="columns-${block.columns}"`;
      return block.numbered ? `<ol${style}>${items}</ol>` : `<ul${style}>${items}</ul>`;
    }
    case 'picture':
      return `<figure${block.width === undefined ? '' : ` style="width: ${block.width}mm"`}>${block.svg}</figure>`;
    case 'beside':
      return `<div class="beside"><figure style="width: ${block.width}mm">${block.svg}</figure><div>${blocksHtml(block.blocks)}</div></div>`;
    case 'cards':
      return cardRows(block.cards)
        .map((row) => `<div class="cards">${row.map(cardHtml).join('\n')}</div>`)
        .join('\n');
    case 'frame': {
      const items = block.items.map((item) => `<li>${escapeXml(item)}</li>`).join('\n');
      return `<section class="frame"><h2>${escapeXml(block.title)}</h2><ul>${items}</ul></section>`;
    }
    case 'section': {
      const label = block.label === undefined ? '' : ` aria-label="${escapeXml(block.label)}"`;
      const kind = block.together === 'with next' ? 'together with-next' : 'together';
      return `<section${block.together === undefined ? '' : ` class="${kind}"`}${label}>${blocksHtml(block.blocks)}</section>`;
    }
  }
}

function cardHtml({ svg, width, blocks, isWide }: Card): string {
  const look = isWide ? 'card wide' : 'card';
  return `<div class="${look}"><figure style="width: ${width}mm">${svg}</figure><div>${blocksHtml(blocks)}</div></div>`;
}

function tableHtml({ columns, rows, totals }: PaperTable): string {
  const cell = (tag: string, text: string, i: number): string => {
    const { figures, soft } = columns[i]!;
    const look = figures ? ' class="figures"' : soft ? ' class="soft"' : '';
    const scope = tag === 'th' ? ' scope="col"' : '';
    return `<${tag}${scope}${look}>${escapeXml(text)}</${tag}>`;
  };
  const rowHtml = (tag: string, texts: readonly string[]): string =>
    `<tr>${texts.map((text, i) => cell(tag, text, i)).join('')}</tr>`;
  const head = rowHtml(
    'th',
    columns.map((column) => column.head),
  );
  const body = rows.map((row) => rowHtml('td', row)).join('\n');
  const foot = totals === undefined ? '' : `<tfoot>${rowHtml('td', totals)}</tfoot>`;
  return `<table><thead>${head}</thead><tbody>${body}</tbody>${foot}</table>`;
}
