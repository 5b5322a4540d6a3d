import { ask } from '../replica/client.ts';
import { api } from '../shell/api.ts';
import { Problems } from '../shell/problems.tsx';
import { linkTo } from '../shell/route.ts';
import { type Session, textOf, useDoing } from './people-doing.ts';

/** Whoever comes in: everything is asked for anew, by the name they are known by. */
async function arrived(shown: string): Promise<void> {
  await ask('signAs', { name: shown });
  location.hash = linkTo('go');
  location.reload();
}

function DeviceField() {
  return (
    <label class="field">
      <span>What you call this device</span>
      <input name="device" required maxLength={100} autocomplete="off" placeholder="phone in the cab" />
    </label>
  );
}

/** By name and password, or by a link that another of one's devices made. */
export function SignIn({ deviceLink }: { readonly deviceLink: string | undefined }) {
  const doing = useDoing();
  const enter = (event: SubmitEvent): void => {
    event.preventDefault();
    const device = textOf(event, 'device');
    const by =
      deviceLink === undefined ? { name: textOf(event, 'name'), password: textOf(event, 'password') } : { deviceLink };
    void doing.run(async () => {
      const { person } = await api<Session>('POST', '/api/session', { ...by, device });
      await arrived(person!.shown);
    });
  };
  return (
    <form onSubmit={enter} class="narrow">
      <h2>{deviceLink === undefined ? 'Sign in' : 'Sign this device in'}</h2>
      {deviceLink === undefined && (
        <>
          <label class="field">
            <span>Name</span>
            <input name="name" required autocomplete="username" autocapitalize="none" />
          </label>
          <label class="field">
            <span>Password</span>
            <input name="password" type="password" required autocomplete="current-password" />
          </label>
        </>
      )}
      <DeviceField />
      <Problems problems={doing.problems} />
      <div class="row end">
        <button type="submit">Sign in</button>
      </div>
    </form>
  );
}

/** By an invitation onto a rig. */
export function Join({ token, signedIn }: { readonly token: string; readonly signedIn: boolean }) {
  const doing = useDoing();
  const join = (event: SubmitEvent): void => {
    event.preventDefault();
    const [name, shown, password] = ['name', 'shown', 'password'].map((field) => textOf(event, field));
    void doing.run(async () => {
      await api('POST', '/api/join', signedIn ? { token } : { token, account: { name, shown, password } });
      const { person } = await api<Session>('GET', '/api/session');
      await arrived(person!.shown);
    });
  };
  return (
    <form onSubmit={join} class="narrow">
      <h2>You are invited to a rig</h2>
      {!signedIn && (
        <>
          <p>Have you an account here? Then sign in first, and open the invitation again.</p>
          <label class="field">
            <span>Your name, as others see it</span>
            <input name="shown" required maxLength={60} autocomplete="name" />
          </label>
          <label class="field">
            <span>Name to sign in with</span>
            <input name="name" required maxLength={60} autocomplete="username" autocapitalize="none" />
          </label>
          <label class="field">
            <span>Password</span>
            <input name="password" type="password" required autocomplete="new-password" />
          </label>
        </>
      )}
      <Problems problems={doing.problems} />
      <div class="row end">
        <a class="button quiet" href={linkTo('people')}>
          Sign in
        </a>
        <button type="submit">Join</button>
      </div>
    </form>
  );
}
