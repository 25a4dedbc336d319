// Light or dark: as the device says, until the switch says otherwise.

export function bindLook(changed) {
  const prefers = matchMedia('(prefers-color-scheme: dark)');
  const button = document.getElementById('look');
  let chosen;
  const apply = () => {
    const isDark = chosen ?? prefers.matches;
    document.documentElement.dataset.look = isDark ? 'dark' : 'light';
    button.textContent = isDark ? 'Light look' : 'Dark look';
    changed(isDark);
  };
  button.addEventListener('click', () => {
    chosen = !(chosen ?? prefers.matches);
    apply();
  });
  prefers.addEventListener('change', apply);
  // On paper it is light.
  let before;
  addEventListener('beforeprint', () => { before = chosen; chosen = false; apply(); });
  addEventListener('afterprint', () => { chosen = before; apply(); });
  apply();
}
