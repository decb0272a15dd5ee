// What the page can do beyond being read: filter, sort, open what a link goes to, and open everything for print.
(() => {
  const bar = document.querySelector('.filter');
  const fields = [...bar.querySelectorAll('[data-filter]')];
  const status = bar.querySelector('[role="status"]');
  const items = [...document.querySelectorAll('[data-item]')].map((element) => ({ element, text: undefined }));

  /** Its words are made small once, when somebody first looks for any. */
  const holds = (item, name, wanted) => {
    if (name !== 'text') return item.element.dataset[name].split(' ').includes(wanted);
    item.text ??= item.element.textContent.toLowerCase();
    return item.text.includes(wanted.toLowerCase());
  };

  const filter = () => {
    const wishes = fields
      .map(({ dataset, value }) => [dataset.filter, value.trim()])
      .filter(([, value]) => value !== '');
    let shown = 0;
    for (const item of items) {
      item.element.hidden = !wishes.every(([name, value]) => holds(item, name, value));
      if (!item.element.hidden) shown += 1;
    }
    for (const group of document.querySelectorAll('[data-group]')) {
      group.hidden = group.querySelector('[data-item]:not([hidden])') === null;
    }
    const text = status.dataset.shown.replace('{shown}', shown).replace('{total}', items.length);
    status.textContent = wishes.length === 0 ? '' : text;
  };

  for (const field of fields) field.addEventListener('input', filter);
  bar.hidden = false;

  /** A number that is not known comes last, whichever way it is sorted. */
  const keyOf = (row, column) => {
    const cell = row.cells[column];
    if (cell.dataset.v === undefined) return cell.textContent;
    return cell.dataset.v === '' ? undefined : Number(cell.dataset.v);
  };

  const compare = (a, b) => {
    if (typeof a === 'number') return a - b;
    return a.localeCompare(b, document.documentElement.lang, { numeric: true });
  };

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

  /** A link into something folded opens it. */
  const openTarget = () => {
    const target = document.getElementById(location.hash.slice(1));
    for (let one = target?.closest('details'); one; one = one.parentElement.closest('details')) one.open = true;
    target?.scrollIntoView();
  };
  addEventListener('hashchange', openTarget);
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
