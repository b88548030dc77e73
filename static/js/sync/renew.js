// Shows a page anew once the longer search that it was made without has ended,
// unless something was typed meanwhile.

renew();

async function renew() {
  const address = new URL(location.href);
  address.searchParams.set('wait', 'long');
  for (;;) {
    const response = await fetch(address);
    if (!response.ok) return;
    if (!(await response.text()).includes('data-testid="looking"')) break;
  }
  const typed = [...document.querySelectorAll('input')].some((input) => input.value !== input.defaultValue);
  if (!typed) location.reload();
}
