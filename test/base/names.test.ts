import { describe, expect, it } from 'vitest';
import { whyNotPortable } from '../../src/base/names.ts';

// Microsoft, "Naming Files, Paths, and Namespaces": what Windows takes for no name of a file.
describe('whyNotPortable', () => {
  it.each([
    'con',
    'PRN',
    'aux.nc',
    'Nul.dxf',
    'com1.svg',
    'LPT9',
    'con.dry.nc',
    'a<b',
    'a>b',
    'a:b',
    'a"b',
    'a/b',
    'a\\b',
    'a|b',
    'a?b',
    'a*b',
    'a\nb',
    'a\u0000',
    '',
    'a.',
    'a ',
    '.',
    '..',
    'x'.repeat(151),
  ])('says why not: %j', (name) => {
    expect(whyNotPortable(name)).toMatch(/^(?:is|has|ends) /);
  });

  it.each([
    'carpet-loop.nc',
    'console.nc',
    'com10.nc',
    'sewing-con.html',
    'Größe.pdf',
    'a b',
    '.DS',
  ])('takes %j', (name) => {
    expect(whyNotPortable(name)).toBeNull();
  });
});
