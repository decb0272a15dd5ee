import { type Nearest, nearestText } from '../documents/nearest.js';
import { quoted } from '../errors.js';
import type { HardwareRecord, ProjectRecord } from '../interchange/records.js';
import { type KnownProduct, ProductIndex } from '../plant/products.js';
import type { Policy } from '../policy/policy.js';
import { grouped } from '../site/names.js';
import { linesOf } from '../site/split-lines.js';
import { toMa } from '../units.js';

/** So many products of one name are told of. */
const MOST_TOLD = 5;

interface Named {
  readonly id: string;
  readonly orderNumber: string | null;
  readonly name: string | null;
}

/** Finds the products of a project by id, else by order number, else by name; those that devices only name count as well. */
export class ProductNames {
  readonly #known: ProductIndex;
  readonly #keys: readonly ReadonlyMap<string, readonly Named[]>[];

  constructor(
    readonly project: ProjectRecord,
    policy: Policy,
  ) {
    this.#known = new ProductIndex(project, policy);
    const ids = new Set([...project.products.keys(), ...refsOf(project)]);
    const all = [...ids].map((id): Named => {
      const product = this.#known.get(id).product;
      return { id, orderNumber: product?.orderNumber ?? null, name: product?.name ?? null };
    });
    this.#keys = [
      grouped(all, ({ id }) => id),
      grouped(all, ({ orderNumber }) => orderNumber),
      grouped(all, ({ name }) => name),
    ];
  }

  /**
   * The products that a name means, which are one to the balance.
   * @returns their ids, or in a text why there is none that can be meant
   */
  find(name: string, nearest: Nearest): readonly string[] | string {
    const found = this.#keys.map((products) => products.get(name)).find((some) => some !== undefined) ?? [];
    if (found.length === 0) {
      const like = nearest.to(name, () => this.#keys.flatMap((products) => [...products.keys()]));
      return `${quoted(name)} is no product of the archive${nearestText(like.map(quoted))}`;
    }
    if (new Set(found.map(({ id }) => sort(this.#known.get(id)))).size === 1) return found.map(({ id }) => id);
    const told = found.slice(0, MOST_TOLD).map(({ id }) => `${quoted(id)} (${drawn(this.#known.get(id))})`);
    const rest = found.length > MOST_TOLD ? ` and ${found.length - MOST_TOLD} more` : '';
    return `${quoted(name)} can be any of ${told.join(', ')}${rest}; name the product by its id`;
  }
}

function refsOf(project: ProjectRecord): string[] {
  const lines = linesOf(project).map(({ record }) => record);
  const devices = lines.flatMap((one) => [...one.devices, ...one.segments.flatMap((segment) => segment.devices)]);
  return devices.flatMap(({ productRef }) => (productRef === undefined ? [] : [productRef]));
}

const NOTHING: Partial<HardwareRecord> = {};

/** What tells products apart to the balance: what they draw or give, and what their hardware and the policy say of them. */
function sort({ current, effective, override }: KnownProduct): string {
  const { id: _, name: __, busCurrent, ...flags } = effective?.hardware ?? NOTHING;
  const rating = flags.isPowerSupply ? (override?.ratingMa ?? busCurrent) : undefined;
  return JSON.stringify([current, flags, busCurrent !== undefined, rating, override?.fanInWeight]);
}

function drawn({ current: { ua, origin } }: KnownProduct): string {
  return `${toMa(ua)} mA ${origin}`;
}
