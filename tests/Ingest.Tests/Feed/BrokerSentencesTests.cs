using MQTTnet;
using Vanehour.Ingest.Feed;

namespace Vanehour.Ingest.Tests.Feed;

/// <summary>What the broker at hand for tests does not do: its codes, and what is said of each.</summary>
public class BrokerSentencesTests
{
    private readonly BrokerSentences sentences = new(new IngestOptions { ClientId = "mine" });

    [Theory]
    [InlineData(MqttClientSubscribeResultCode.NotAuthorized, "access list")]
    [InlineData(MqttClientSubscribeResultCode.GrantedQoS0, "QoS 0")]
    [InlineData(MqttClientSubscribeResultCode.SharedSubscriptionsNotSupported, "Ingest:ShareName")]
    public void RefusedSubscription_SaysWhatToDo(MqttClientSubscribeResultCode code, string part)
    {
        var e = sentences.SubscriptionRefused("fleet/+/pump", code);

        Assert.Equal(BrokerFailure.SubscriptionRefused, e.Failure);
        Assert.Contains(part, e.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(MqttClientConnectResultCode.NotAuthorized, BrokerFailure.BadCredentials, "Ingest:User")]
    [InlineData(MqttClientConnectResultCode.ClientIdentifierNotValid, BrokerFailure.Refused, "'mine'")]
    [InlineData(MqttClientConnectResultCode.UnsupportedProtocolVersion, BrokerFailure.Refused, "MQTT 5")]
    [InlineData(MqttClientConnectResultCode.QuotaExceeded, BrokerFailure.Refused, "QuotaExceeded: enough")]
    public void RefusedConnection_SaysWhatToDo(MqttClientConnectResultCode code, BrokerFailure failure, string part)
    {
        var e = sentences.Refused(code, "enough");

        Assert.Equal(failure, e.Failure);
        Assert.Contains(part, e.Message, StringComparison.Ordinal);
    }
}
