"""The workshop's own certificate authority, and the certificate that this PC shows to phones.

Phones come here only over TLS, since browsers keep an app offline only from an address that they trust. No public
authority can vouch for an address inside a workshop, so that the workshop has one of its own. It is good for local
names and addresses only (RFC 5280, 4.2.1.10): whoever steals its key cannot play any other place to the phones whose
system looks at these limits.
"""

import ipaddress
import logging
import ssl
import threading
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.exceptions import UnsupportedAlgorithm
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from ..log import LogFault
from . import private
from .addresses import LOCAL, LOOPBACK, LOOPBACK_NAMES, Addresses, find_addresses, is_local
from .devices import utc_now

AUTHORITY_FOR = timedelta(days=3650)
# Browsers take no host certificate that is good for longer than 398 days (CA/Browser Forum, 6.3.2, to March 2026).
HOST_FOR = timedelta(days=396)
RENEW_BEFORE = timedelta(days=60)
# Phones whose clock is behind.
BACKDATED = timedelta(hours=24)
LOOK_EVERY = timedelta(minutes=5)
LOCAL_DOMAINS = ("local", "lan", "internal", "home.arpa")

AUTHORITY = "authority.pem"
AUTHORITY_KEY = "authority-key.pem"
HOST = "host.pem"
HOST_KEY = "host-key.pem"

Key = ec.EllipticCurvePrivateKey


class Authority:
    """The authority of one workshop.

    Parameters
    ----------
    certificate : x509.Certificate
        What phones come to trust.
    key : Key
        Its private key.
    """

    def __init__(self, certificate: x509.Certificate, key: Key) -> None:
        self.certificate = certificate
        self.key = key

    @property
    def pem(self) -> bytes:
        """The certificate in PEM (RFC 7468)."""
        return self.certificate.public_bytes(serialization.Encoding.PEM)

    @property
    def der(self) -> bytes:
        """The certificate in DER."""
        return self.certificate.public_bytes(serialization.Encoding.DER)

    @property
    def fingerprint(self) -> str:
        """SHA-256 of the certificate, as phones show it: pairs of digits."""
        return self.certificate.fingerprint(hashes.SHA256()).hex(" ").upper()

    @classmethod
    def make(cls, now: datetime, label: str = "") -> "Authority":
        """A new authority for the PC of this name."""
        key = ec.generate_private_key(ec.SECP256R1())
        of = f" of {label}" if label else ""
        name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, f"Slipbook{of}, {now:%Y-%m-%d}"[:64])])
        domains = [*LOOPBACK_NAMES, *LOCAL_DOMAINS, *([label] if label else [])]
        permitted = [*map(x509.DNSName, domains), *map(x509.IPAddress, LOCAL)]
        builder = started(name, name, key, now, now + AUTHORITY_FOR)
        builder = builder.add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        builder = builder.add_extension(usage(signs_certificates=True), critical=True)
        builder = builder.add_extension(x509.NameConstraints(permitted, None), critical=True)
        return cls(builder.sign(key, hashes.SHA256()), key)

    def covers(self, name: str) -> bool:
        """Whether this authority may vouch for a name."""
        limits = self.certificate.extensions.get_extension_for_class(x509.NameConstraints).value
        domains = [one.value for one in limits.permitted_subtrees or [] if isinstance(one, x509.DNSName)]
        return any(name == domain or name.endswith("." + domain) for domain in domains)

    def issue(self, addresses: Addresses, now: datetime) -> tuple[x509.Certificate, Key]:
        """A host certificate for the names and addresses that this authority may vouch for, and its key."""
        key = ec.generate_private_key(ec.SECP256R1())
        names: list[x509.GeneralName] = [x509.DNSName(one) for one in (*addresses.names, *LOOPBACK_NAMES)]
        names = [one for one in names if self.covers(one.value)]
        numbers = [one for one in dict.fromkeys((*addresses.numbers, *LOOPBACK)) if is_local(one)]
        names += [x509.IPAddress(ipaddress.ip_address(one)) for one in numbers]
        subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, (addresses.names or LOOPBACK_NAMES)[0][:64])])
        ends = min(now + HOST_FOR, self.certificate.not_valid_after_utc)
        builder = started(subject, self.certificate.subject, key, now, ends)
        builder = builder.add_extension(x509.SubjectAlternativeName(names), critical=False)
        builder = builder.add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        builder = builder.add_extension(usage(signs_certificates=False), critical=True)
        builder = builder.add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        signer = x509.AuthorityKeyIdentifier.from_issuer_public_key(self.key.public_key())
        return builder.add_extension(signer, critical=False).sign(self.key, hashes.SHA256()), key


def started(subject: x509.Name, issuer: x509.Name, key: Key, now: datetime, ends: datetime) -> x509.CertificateBuilder:
    """What every certificate here begins with."""
    builder = x509.CertificateBuilder(issuer, subject, key.public_key(), x509.random_serial_number())
    builder = builder.not_valid_before(now - BACKDATED).not_valid_after(ends)
    return builder.add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)


def usage(signs_certificates: bool) -> x509.KeyUsage:
    """What a key is for."""
    return x509.KeyUsage(
        digital_signature=not signs_certificates,
        key_cert_sign=signs_certificates,
        crl_sign=signs_certificates,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        encipher_only=False,
        decipher_only=False,
    )


def key_text(key: Key) -> bytes:
    """A private key in PEM."""
    return key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )


class Credentials:
    """The authority and the host's certificate in the data folder, made where missing and renewed in time.

    Parameters
    ----------
    folder : Path
        The data folder's `lan`; made if missing.
    look : callable
        Finds the names and addresses that this PC has now.
    now : callable
        Time with its offset.

    Raises
    ------
    LogFault
        What is there cannot be used.
    """

    def __init__(
        self,
        folder: Path,
        look: Callable[[], Addresses] = find_addresses,
        now: Callable[[], datetime] = utc_now,
    ) -> None:
        self.folder = folder
        self.look = look
        self.now = now
        self.lock = threading.Lock()
        self.looked = now()
        self.watchers: list[Callable[[Addresses], None]] = []
        private.make_folder(folder)
        self.addresses = look()
        self.authority = self.load_authority()
        self.context = self.fresh_context()

    def load_authority(self) -> Authority:
        """The authority in the folder; a new one if there is none, or if it runs out before a host certificate."""
        # The key is written first: a key alone was left by a kill, and nobody trusts it yet.
        if (self.folder / AUTHORITY).exists():
            found = Authority(*self.load(AUTHORITY, AUTHORITY_KEY))
            if found.certificate.not_valid_after_utc - self.now() > RENEW_BEFORE:
                return found
            logging.getLogger("slipbook").warning("The authority ran out: every phone has to trust the new one.")
        label = next((name for name in self.addresses.names if "." not in name), "")
        made = Authority.make(self.now(), label)
        private.write(self.folder / AUTHORITY_KEY, key_text(made.key))
        private.write(self.folder / AUTHORITY, made.pem)
        return made

    def load(self, certificate: str, key: str) -> tuple[x509.Certificate, Key]:
        """A certificate and its key from the folder."""
        try:
            found = x509.load_pem_x509_certificate((self.folder / certificate).read_bytes())
            secret = serialization.load_pem_private_key((self.folder / key).read_bytes(), None)
            if isinstance(secret, ec.EllipticCurvePrivateKey) and secret.public_key() == found.public_key():
                return found, secret
        except (OSError, ValueError, TypeError, UnsupportedAlgorithm):
            pass
        raise LogFault(
            f"{self.folder / certificate} and {key} beside it cannot be used together: put both back from a copy, "
            "or remove both and let every phone trust this Slipbook anew."
        )

    def fresh_context(self) -> ssl.SSLContext:
        """What the next connections are made with, and the certificate behind it renewed if it is time."""
        begins = self.authority.certificate.not_valid_before_utc
        if self.now() < begins:
            raise LogFault(
                f"This PC's clock shows {self.now():%Y-%m-%d}, before {begins:%Y-%m-%d}: set it, then start again."
            )
        self.addresses = self.look()
        if not self.host_is_good():
            certificate, key = self.authority.issue(self.addresses, self.now())
            private.write(self.folder / HOST_KEY, key_text(key))
            private.write(self.folder / HOST, certificate.public_bytes(serialization.Encoding.PEM))
        self.looked = self.now()
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        context.minimum_version = ssl.TLSVersion.TLSv1_2
        context.options |= ssl.OP_NO_COMPRESSION | ssl.OP_NO_RENEGOTIATION
        context.set_alpn_protocols(["http/1.1"])
        context.load_cert_chain(self.folder / HOST, self.folder / HOST_KEY)
        return context

    def host_is_good(self) -> bool:
        """Whether the host certificate in the folder is this authority's, in time, and for where this PC is now."""
        try:
            certificate, _ = self.load(HOST, HOST_KEY)
            certificate.verify_directly_issued_by(self.authority.certificate)
        except Exception:
            # Whatever is wrong with it, another is made at no cost to anybody.
            return False
        if not certificate.not_valid_before_utc <= self.now() < certificate.not_valid_after_utc - RENEW_BEFORE:
            return False
        named = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
        names = set(named.get_values_for_type(x509.DNSName))
        numbers = {str(one) for one in named.get_values_for_type(x509.IPAddress)}
        wanted = {one for one in self.addresses.names if self.authority.covers(one)}
        return wanted <= names and {one for one in self.addresses.numbers if is_local(one)} <= numbers

    def current(self) -> ssl.SSLContext:
        """The context for a new connection; every few minutes the certificate is looked at again."""
        with self.lock:
            if not timedelta(0) <= self.now() - self.looked < LOOK_EVERY:
                self.look_again()
            return self.context

    def renew(self) -> None:
        """Look at the certificate again now: this PC has another name."""
        # Also after somebody who looks at this moment, and may have asked for the name before it changed.
        with self.lock:
            self.look_again()

    def look_again(self) -> None:
        """Look at the certificate and tell the watchers where this PC is now; the lock is held."""
        try:
            self.context = self.fresh_context()
        except (LogFault, OSError) as fault:
            # A full disk must not lock phones out while the certificate of before is still good.
            self.looked = self.now()
            logging.getLogger("slipbook").error("The host certificate was not looked at: %s", fault)
        for watcher in self.watchers:
            watcher(self.addresses)
