// What the page can do beyond being read: filter, sort, open what a link goes to, and open everything for print.
(() => {
  const bar = document.querySelector('.filter');
  const fields = [...bar.querySelectorAll('[data-filter]')];
  const status = bar.querySelector('[role="status"]');
  const items = [...document.querySelectorAll('[data-item]')].map((element) => ({
    element,
    verdicts: element.dataset.verdicts.split(' '),
    severities: element.dataset.severities.split(' '),
    counts: element.matches('.finding') ? 'findings' : element.matches('.card') ? 'segments' : undefined,
    group: element.closest('[data-group]'),
    text: undefined,
  }));
  const groups = document.querySelectorAll('[data-group]');

  const aboutGroups = new Map();

  /** What stands above the items of a group is said of each of them: of a rule its title, its id and why. */
  const aboutOf = (group) => {
    if (group === null) return '';
    const known = aboutGroups.get(group);
    if (known !== undefined) return known;
    const above = [...group.children].filter((child) => !child.matches('[data-item]'));
    const text = above.map(({ textContent }) => textContent.toLowerCase()).join(' ');
    aboutGroups.set(group, text);
    return text;
  };

  /** Its words are made small once, as going through a large page at each key would be felt. */
  const textOf = (item) => {
    item.text ??= item.element.textContent.toLowerCase();
    return item.text;
  };

  const says = (item, wanted) => textOf(item).includes(wanted) || aboutOf(item.group).includes(wanted);

  const holds = (item, name, wanted) => (name === 'text' ? says(item, wanted) : item[name].includes(wanted));

  /** What is as it should be is left alone, so that the browser has only what changes to style anew. */
  const hide = (element, isHidden) => {
    if (element.hidden !== isHidden) element.hidden = isHidden;
  };

  const all = { findings: 0, segments: 0 };
  for (const { counts } of items) if (counts !== undefined) all[counts] += 1;

  const toldOf = ({ findings, segments }) =>
    status.dataset.shown
      .replace('{findings}', findings)
      .replace('{allFindings}', all.findings)
      .replace('{segments}', segments)
      .replace('{allSegments}', all.segments);

  const filter = () => {
    const wishes = fields
      .map(({ dataset, value }) => [dataset.filter, value.trim().toLowerCase()])
      .filter(([, value]) => value !== '');
    const filled = new Set();
    const shown = { findings: 0, segments: 0 };
    for (const item of items) {
      const isShown = wishes.every(([name, value]) => holds(item, name, value));
      hide(item.element, !isShown);
      if (!isShown) continue;
      if (item.counts !== undefined) shown[item.counts] += 1;
      filled.add(item.group);
    }
    for (const group of groups) hide(group, !filled.has(group));
    const told = wishes.length === 0 ? '' : toldOf(shown);
    if (status.textContent !== told) status.textContent = told;
  };

  /** Words are made small ahead where the browser has nothing else to do; else when they are first looked for. */
  const prepare = (from) => (deadline) => {
    let at = from;
    for (; at < items.length && deadline.timeRemaining() > 1; at += 1) textOf(items[at]);
    if (at < items.length) requestIdleCallback(prepare(at));
  };
  globalThis.requestIdleCallback?.(prepare(0));

  for (const field of fields) field.addEventListener('input', filter);
  bar.hidden = false;

  /** A number that is not known comes last, whichever way it is sorted. */
  const keyOf = (row, column) => {
    const cell = row.cells[column];
    if (cell.dataset.v === undefined) return cell.textContent;
    return cell.dataset.v === '' ? undefined : Number(cell.dataset.v);
  };

  const { compare: compareTexts } = new Intl.Collator(document.documentElement.lang, { numeric: true });
  const compare = (a, b) => (typeof a === 'number' ? a - b : compareTexts(a, b));

  const sort = (heading) => {
    const table = heading.closest('table');
    const down = heading.getAttribute('aria-sort') === 'ascending';
    for (const other of table.tHead.rows[0].cells) other.removeAttribute('aria-sort');
    heading.setAttribute('aria-sort', down ? 'descending' : 'ascending');
    const keyed = [...table.tBodies[0].rows].map((row) => ({ row, key: keyOf(row, heading.cellIndex) }));
    const known = keyed.filter(({ key }) => key !== undefined).sort((a, b) => compare(a.key, b.key) * (down ? -1 : 1));
    const unknown = keyed.filter(({ key }) => key === undefined);
    table.tBodies[0].append(...[...known, ...unknown].map(({ row }) => row));
  };

  /** Buttons are made for a table when it is first seen, as a large page has hundreds of tables. */
  const makeSortable = (table) => {
    if (table.tBodies[0].rows.length < 2) return;
    for (const heading of table.tHead.rows[0].cells) {
      const button = document.createElement('button');
      button.type = 'button';
      button.title = bar.dataset.sortLabel.replace('{column}', heading.textContent);
      button.append(...heading.childNodes);
      button.addEventListener('click', () => sort(heading));
      heading.append(button);
    }
  };

  const seen = new IntersectionObserver((entries) => {
    for (const { target, isIntersecting } of entries) {
      if (!isIntersecting) continue;
      seen.unobserve(target);
      makeSortable(target);
    }
  });
  for (const table of document.querySelectorAll('table')) seen.observe(table);

  const unfilter = () => {
    for (const field of fields) field.value = '';
    filter();
  };

  /** A link into something folded opens it, and one to what the filter hides ends the filter. */
  const openTarget = () => {
    const target = document.getElementById(location.hash.slice(1));
    if (target?.closest('[hidden]')) unfilter();
    for (let one = target?.closest('details'); one; one = one.parentElement.closest('details')) one.open = true;
    target?.scrollIntoView();
  };
  addEventListener('hashchange', openTarget);
  // A link to where the address is already changes no address.
  addEventListener('click', ({ target }) => {
    if (target.closest('a[href^="#"]')?.hash === location.hash) openTarget();
  });
  if (location.hash !== '') openTarget();

  // Browsers that print folded parts by the style sheet alone need none of this.
  if (!CSS.supports('selector(::details-content)')) {
    let opened = [];
    addEventListener('beforeprint', () => {
      opened = [...document.querySelectorAll('details:not([open])')];
      for (const one of opened) one.open = true;
    });
    addEventListener('afterprint', () => {
      for (const one of opened) one.open = false;
    });
  }
})();
