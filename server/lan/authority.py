"""The workshop's own certificate authority, and the certificate that this PC shows to phones.

Phones need TLS, because browsers keep an app offline only from an address that they trust. No public authority can
vouch for an address inside a workshop, so the workshop has one of its own. It is valid for local names and addresses
only (RFC 5280, 4.2.1.10): a thief of its key cannot pretend to be any other site to phones that check these limits.
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
from .addresses import LOCAL_NETWORKS, LOOPBACK_IPS, LOOPBACK_NAMES, Addresses, find_addresses, is_local
from .register import utc_now

AUTHORITY_VALID_FOR = timedelta(days=3650)
# Browsers refuse host certificates that are valid for more than 398 days (CA/Browser Forum, 6.3.2, to March 2026).
HOST_VALID_FOR = timedelta(days=396)
RENEW_BEFORE = timedelta(days=60)
# For phones whose clock is slow.
BACKDATED = timedelta(hours=24)
CHECK_EVERY = timedelta(minutes=5)
LOCAL_DOMAINS = ("local", "lan", "internal", "home.arpa")

AUTHORITY_FILE = "authority.pem"
AUTHORITY_KEY_FILE = "authority-key.pem"
HOST_FILE = "host.pem"
HOST_KEY_FILE = "host-key.pem"

Key = ec.EllipticCurvePrivateKey


class Authority:
    """The authority of one workshop.

    Parameters
    ----------
    certificate : x509.Certificate
        The certificate that phones are made to trust.
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
        """SHA-256 of the certificate, as phones show it: in pairs of hexadecimal digits."""
        return self.certificate.fingerprint(hashes.SHA256()).hex(" ").upper()

    @classmethod
    def make(cls, now: datetime, label: str = "") -> "Authority":
        """A new authority for the PC of this name."""
        key = ec.generate_private_key(ec.SECP256R1())
        of_pc = f" of {label}" if label else ""
        name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, f"Slipbook{of_pc}, {now:%Y-%m-%d}"[:64])])
        domains = [*LOOPBACK_NAMES, *LOCAL_DOMAINS, *([label] if label else [])]
        permitted = [*map(x509.DNSName, domains), *map(x509.IPAddress, LOCAL_NETWORKS)]
        builder = start_certificate(name, name, key, now, now + AUTHORITY_VALID_FOR)
        builder = builder.add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        builder = builder.add_extension(make_key_usage(signs_certificates=True), critical=True)
        builder = builder.add_extension(x509.NameConstraints(permitted, None), critical=True)
        return cls(builder.sign(key, hashes.SHA256()), key)

    def covers(self, name: str) -> bool:
        """Whether this authority may vouch for a name."""
        limits = self.certificate.extensions.get_extension_for_class(x509.NameConstraints).value
        domains = [subtree.value for subtree in limits.permitted_subtrees or [] if isinstance(subtree, x509.DNSName)]
        return any(name == domain or name.endswith("." + domain) for domain in domains)

    def issue(self, addresses: Addresses, now: datetime) -> tuple[x509.Certificate, Key]:
        """A host certificate for the names and addresses that this authority may vouch for, and its key."""
        key = ec.generate_private_key(ec.SECP256R1())
        names = [name for name in (*addresses.names, *LOOPBACK_NAMES) if self.covers(name)]
        ips = [ip for ip in dict.fromkeys((*addresses.ips, *LOOPBACK_IPS)) if is_local(ip)]
        hosts: list[x509.GeneralName] = [*map(x509.DNSName, names)]
        hosts += [x509.IPAddress(ipaddress.ip_address(ip)) for ip in ips]
        subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, (addresses.names or LOOPBACK_NAMES)[0][:64])])
        valid_until = min(now + HOST_VALID_FOR, self.certificate.not_valid_after_utc)
        builder = start_certificate(subject, self.certificate.subject, key, now, valid_until)
        builder = builder.add_extension(x509.SubjectAlternativeName(hosts), critical=False)
        builder = builder.add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        builder = builder.add_extension(make_key_usage(signs_certificates=False), critical=True)
        builder = builder.add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        signer = x509.AuthorityKeyIdentifier.from_issuer_public_key(self.key.public_key())
        return builder.add_extension(signer, critical=False).sign(self.key, hashes.SHA256()), key


def start_certificate(
    subject: x509.Name, issuer: x509.Name, key: Key, now: datetime, valid_until: datetime
) -> x509.CertificateBuilder:
    """Begin a certificate with what all certificates here have in common."""
    builder = x509.CertificateBuilder(issuer, subject, key.public_key(), x509.random_serial_number())
    builder = builder.not_valid_before(now - BACKDATED).not_valid_after(valid_until)
    return builder.add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)


def make_key_usage(signs_certificates: bool) -> x509.KeyUsage:
    """What a key may be used for: to sign certificates, or else to sign only."""
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


def encode_key(key: Key) -> bytes:
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
    find : callable
        Finds the names and addresses that this PC has now.
    now : callable
        Tells the time, with its offset.

    Raises
    ------
    LogFault
        What is in the folder cannot be used.
    """

    def __init__(
        self,
        folder: Path,
        find: Callable[[], Addresses] = find_addresses,
        now: Callable[[], datetime] = utc_now,
    ) -> None:
        self.folder = folder
        self.find = find
        self.now = now
        self.lock = threading.Lock()
        self.checked_at = now()
        self.address_watchers: list[Callable[[Addresses], None]] = []
        private.make_folder(folder)
        self.addresses = find()
        self.authority = self.load_authority()
        self.context = self.make_context()

    def load_authority(self) -> Authority:
        """The authority in the folder; a new one if there is none, or if it would expire before a host certificate."""
        # The key is written first: a key without a certificate was left by a kill, and no phone trusts it yet.
        if (self.folder / AUTHORITY_FILE).exists():
            authority = Authority(*self.load_pair(AUTHORITY_FILE, AUTHORITY_KEY_FILE))
            if authority.certificate.not_valid_after_utc - self.now() > RENEW_BEFORE:
                return authority
            logging.getLogger("slipbook").warning("The authority expired: every phone has to trust the new one.")
        label = next((name for name in self.addresses.names if "." not in name), "")
        authority = Authority.make(self.now(), label)
        private.write(self.folder / AUTHORITY_KEY_FILE, encode_key(authority.key))
        private.write(self.folder / AUTHORITY_FILE, authority.pem)
        return authority

    def load_pair(self, certificate_name: str, key_name: str) -> tuple[x509.Certificate, Key]:
        """A certificate and its key from the folder."""
        try:
            certificate = x509.load_pem_x509_certificate((self.folder / certificate_name).read_bytes())
            key = serialization.load_pem_private_key((self.folder / key_name).read_bytes(), None)
            if isinstance(key, ec.EllipticCurvePrivateKey) and key.public_key() == certificate.public_key():
                return certificate, key
        except (OSError, ValueError, TypeError, UnsupportedAlgorithm):
            pass
        raise LogFault(
            f"{self.folder / certificate_name} and {key_name} beside it cannot be used together: put both back from a "
            "copy, or remove both and let every phone trust this Slipbook again."
        )

    def make_context(self) -> ssl.SSLContext:
        """The TLS context for new connections; renews the host certificate first if it is due."""
        valid_from = self.authority.certificate.not_valid_before_utc
        if self.now() < valid_from:
            raise LogFault(
                f"This PC's clock shows {self.now():%Y-%m-%d}, before {valid_from:%Y-%m-%d}: set it, then start again."
            )
        self.addresses = self.find()
        if not self.is_host_valid():
            certificate, key = self.authority.issue(self.addresses, self.now())
            private.write(self.folder / HOST_KEY_FILE, encode_key(key))
            private.write(self.folder / HOST_FILE, certificate.public_bytes(serialization.Encoding.PEM))
        self.checked_at = self.now()
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        context.minimum_version = ssl.TLSVersion.TLSv1_2
        context.options |= ssl.OP_NO_COMPRESSION | ssl.OP_NO_RENEGOTIATION
        context.set_alpn_protocols(["http/1.1"])
        context.load_cert_chain(self.folder / HOST_FILE, self.folder / HOST_KEY_FILE)
        return context

    def is_host_valid(self) -> bool:
        """Whether the folder's host certificate is this authority's, not due for renewal, and for this PC's hosts."""
        try:
            certificate, _ = self.load_pair(HOST_FILE, HOST_KEY_FILE)
            certificate.verify_directly_issued_by(self.authority.certificate)
        except Exception:
            # Whatever is wrong with it, a new one costs nobody anything.
            return False
        if not certificate.not_valid_before_utc <= self.now() < certificate.not_valid_after_utc - RENEW_BEFORE:
            return False
        host_names = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
        certified_names = set(host_names.get_values_for_type(x509.DNSName))
        certified_ips = {str(ip) for ip in host_names.get_values_for_type(x509.IPAddress)}
        names = {name for name in self.addresses.names if self.authority.covers(name)}
        ips = {ip for ip in self.addresses.ips if is_local(ip)}
        return names <= certified_names and ips <= certified_ips

    def current_context(self) -> ssl.SSLContext:
        """The TLS context for a new connection; checks the certificate again every few minutes."""
        with self.lock:
            if not timedelta(0) <= self.now() - self.checked_at < CHECK_EVERY:
                self.renew_context()
            return self.context

    def renew(self) -> None:
        """Check the certificate now, because this PC has another name."""
        # A check that is going on in another thread may have asked for the name before it changed.
        with self.lock:
            self.renew_context()

    def renew_context(self) -> None:
        """Check the certificate, and tell the watchers where this PC is now. The caller holds the lock."""
        try:
            self.context = self.make_context()
        except (LogFault, OSError) as fault:
            # A full disk must not lock phones out while the present certificate is still valid.
            self.checked_at = self.now()
            logging.getLogger("slipbook").error("The host certificate could not be checked: %s", fault)
        for watcher in self.address_watchers:
            watcher(self.addresses)
