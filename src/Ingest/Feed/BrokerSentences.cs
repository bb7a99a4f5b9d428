using System.Net.Sockets;
using System.Security.Authentication;
using MQTTnet;
using MQTTnet.Exceptions;

namespace Vanehour.Ingest.Feed;

/// <summary>Says what went wrong with the broker, and what to do, in one sentence or two.</summary>
internal sealed class BrokerSentences(IngestOptions options)
{
    private string Broker => $"The broker at {options.Broker}";

    public BrokerException Refused(MqttClientConnectResultCode code, string? reason) => code switch
    {
        MqttClientConnectResultCode.BadUserNameOrPassword or MqttClientConnectResultCode.NotAuthorized => new BrokerException(
            BrokerFailure.BadCredentials,
            $"{Broker} refused the credentials of {(options.User is null ? "a client without a user" : $"user '{options.User}'")} ({code}). Check Ingest:User and Ingest:PasswordFile."),
        MqttClientConnectResultCode.ClientIdentifierNotValid => new BrokerException(
            BrokerFailure.Refused, $"{Broker} refused the client id '{options.EffectiveClientId}'. Set another with Ingest:ClientId."),
        MqttClientConnectResultCode.UnsupportedProtocolVersion => new BrokerException(
            BrokerFailure.Refused, $"{Broker} does not speak MQTT 5. Use a broker that does."),
        _ => new BrokerException(BrokerFailure.Refused, $"{Broker} refused the connection ({code}{Because(reason)}). See the broker's log."),
    };

    public BrokerException SubscriptionRefused(string filter, MqttClientSubscribeResultCode code) => code switch
    {
        MqttClientSubscribeResultCode.GrantedQoS0 => new BrokerException(
            BrokerFailure.SubscriptionRefused,
            $"{Broker} grants '{filter}' only without acknowledgements (QoS 0), which loses messages. Allow QoS 1 at the broker."),
        MqttClientSubscribeResultCode.SharedSubscriptionsNotSupported => new BrokerException(
            BrokerFailure.SubscriptionRefused, $"{Broker} has no shared subscriptions. Leave Ingest:ShareName unset and run one worker."),
        _ => new BrokerException(
            BrokerFailure.SubscriptionRefused,
            $"{Broker} refused the subscription to '{filter}' ({code}). Check the broker's access list and Ingest:Topics."),
    };

    public BrokerException Failed(Exception e)
    {
        if (Find<AuthenticationException>(e) is { } tls)
        {
            return new BrokerException(
                BrokerFailure.TlsFailed, $"{Broker} could not be trusted ({tls.Message.TrimEnd('.')}). Check Ingest:CaFile and the name in the broker's certificate.", e);
        }

        if (Find<SocketException>(e) is { } socket)
        {
            return new BrokerException(
                BrokerFailure.Unreachable, $"{Broker} could not be reached ({socket.Message.TrimEnd('.')}). Check that it runs and that host and port are right.", e);
        }

        return e is MqttCommunicationTimedOutException or OperationCanceledException
            ? new BrokerException(
                BrokerFailure.Unreachable, $"{Broker} did not answer within {options.ConnectTimeout.TotalSeconds:0} seconds. Check that host, port and TLS are right.", e)
            : new BrokerException(
                BrokerFailure.Unreachable, $"{Broker} did not complete the connection ({e.Message.TrimEnd('.')}). Check host, port and TLS, and see the broker's log.", e);
    }

    public BrokerException Lost(MqttClientDisconnectReason reason, string? text, Exception? cause) => reason switch
    {
        MqttClientDisconnectReason.SessionTakenOver => new BrokerException(
            BrokerFailure.SessionTakenOver,
            $"Another client came to {options.Broker} with our client id '{options.EffectiveClientId}' and took the session. Give each worker its own Ingest:ClientId, or stop the other one."),
        MqttClientDisconnectReason.NormalDisconnection when cause is null => new BrokerException(
            BrokerFailure.ConnectionClosed, $"The connection to {options.Broker} was closed by the broker without a reason."),
        _ => new BrokerException(
            BrokerFailure.ConnectionLost,
            $"The connection to {options.Broker} was lost ({(cause is null ? reason.ToString() + Because(text) : cause.GetBaseException().Message.TrimEnd('.'))}).",
            cause),
    };

    public BrokerException ProbablyTakenOver(int times) => new(
        BrokerFailure.SessionTakenOver,
        $"The broker at {options.Broker} took the connection and closed it again without a reason {times} times in a row: most likely another client uses our client id '{options.EffectiveClientId}'. Give each worker its own Ingest:ClientId, or stop the other one.");

    private static string Because(string? reason) => string.IsNullOrEmpty(reason) ? "" : ": " + reason;

    private static T? Find<T>(Exception? e)
        where T : Exception
    {
        for (; e is not null; e = e.InnerException)
        {
            if (e is T found)
            {
                return found;
            }
        }

        return null;
    }
}
